"""The language of the access table: who asks, what they ask for, and what they get.

Roles, as seen from the object that a row asks for:

    anonymous       nobody is signed in
    athlete         the athlete it belongs to
    other_athlete   another athlete of the same club
    coach           the athlete's main coach, who also holds the claim and sent the invitation
    second_coach    another coach of the same club
    owner           the club's owner
    stranger        a coach of another club
    outsider        an athlete of another club
    foreign_owner   the owner of another club
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from tests.access.world import World

ROLES = (
    *("anonymous", "athlete", "other_athlete", "coach", "second_coach"),
    *("owner", "stranger", "outsider", "foreign_owner"),
)
LOGIN = "to the sign-in page"
Answer = int | str
Expected = Mapping[str, Answer]
Build = Callable[[World], Any]


def nothing(world: World) -> dict[str, Any]:
    return {}


@dataclass(frozen=True)
class Row:
    """One request: the route's name, what it is sent, and the answer for each role."""

    route: str
    expected: Expected
    method: str = "GET"
    args: Build = nothing  # the route's keyword arguments
    data: Build = nothing  # form fields; as JSON or raw bytes by `content_type`
    query: str = ""
    content_type: str = ""
    headers: Build = nothing
    about: str = ""  # tells rows of one route apart

    @property
    def name(self) -> str:
        return "-".join(filter(None, [self.route, self.method, self.about]))


def api(route: str, expected: Expected, **more: Any) -> Row:
    """A row of the REST interface: JSON, and 401 in place of the sign-in page."""
    return Row(route, {**expected, "anonymous": 401}, content_type="application/json", **more)


def everyone(answer: Answer) -> Expected:
    return dict.fromkeys(ROLES, answer)


def signed_in(answer: Answer) -> Expected:
    """A page of one's own, or without an object: the same for whoever is signed in."""
    return {**everyone(answer), "anonymous": LOGIN}


def athletes_page(answer: Answer, *, coaches: Answer) -> Expected:
    """A page of the athlete's own, without an object."""
    return {
        **signed_in(coaches),
        **dict.fromkeys(["athlete", "other_athlete", "outsider"], answer),
    }


def coaches_page(answer: Answer) -> Expected:
    """A page of the desk without an object: coaches of any club see their own."""
    return athletes_page(403, coaches=answer)


def mine(answer: Answer) -> Expected:
    """The athlete's alone; for everybody else it is not there."""
    return {**signed_in(404), "athlete": answer}


def coached(answer: Answer, *, athletes: Answer = 403) -> Expected:
    """A coach's tool on an object of the club; for coaches of another club it is not there."""
    return {
        **athletes_page(athletes, coaches=404),
        **dict.fromkeys(["coach", "second_coach", "owner"], answer),
    }


def shared(answer: Answer) -> Expected:
    """Between the athlete and the coaches of the club."""
    return {**coached(answer, athletes=404), "athlete": answer}


def owners(answer: Answer) -> Expected:
    """An owner's power over somebody of the club."""
    return {**signed_in(403), "owner": answer, "foreign_owner": 404}
