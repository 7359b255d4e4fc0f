"""Looking at a part of the queue: what is in it, honest counts, and it stays looked at."""

import pytest
from django.urls import reverse

from programming.models import Movement
from reviews.desk.claiming import claim, live_claim
from reviews.desk.sifting import Sifted
from reviews.intake.models import State

pytestmark = pytest.mark.filterwarnings("ignore:No directory at")


@pytest.fixture
def coach(client, cast):
    client.force_login(cast.coach)
    return client


@pytest.fixture
def queue(cast, waiting, settings):
    """One of each kind, by name."""
    settings.OVERDUE_DAYS = 5
    cast.other_athlete.main_coach = cast.second_coach
    cast.other_athlete.save()
    Movement.objects.get_or_create(club=None, name="Bench press", defaults={"family": "bench"})
    before = waiting(state=State.ANSWERED)
    made = {
        "plain": waiting(question="plain"),
        "sore": waiting(question="sore", pain=3),
        "again": waiting(question="again", check_back_of=before),
        "late": waiting(question="late", days=6),
        "pressed": waiting(cast.other_athlete, question="pressed", movement="Bench press"),
        "held": waiting(cast.other_athlete, question="held"),
    }
    made["plain"].back_at = made["plain"].sent_at
    made["plain"].save()
    claim(submission=made["held"], coach=cast.second_coach)
    return made


@pytest.mark.parametrize(
    ("words", "found"),
    [
        ({}, {"plain", "sore", "again", "late", "pressed", "held"}),
        ({"whose": "all", "family": "", "what": "nonsense"}, {"plain", "sore", "again", "late",
                                                             "pressed", "held"}),
        ({"whose": "mine"}, {"plain", "sore", "again", "late"}),
        ({"family": "bench"}, {"pressed"}),
        ({"what": "pain"}, {"sore"}),
        ({"what": "check-back"}, {"again"}),
        ({"what": "overdue"}, {"late"}),
        ({"what": "back"}, {"plain"}),
        ({"whose": "mine", "family": "bench"}, set()),
    ],
)  # fmt: skip
def test_what_is_found(cast, queue, words, found) -> None:
    assert {row.question for row in Sifted.asked(words).waiting(cast.coach)} == found


def test_mine_is_also_what_is_in_my_hands(cast, queue) -> None:
    claim(submission=queue["pressed"], coach=cast.coach)
    mine = Sifted.asked({"whose": "mine"}).waiting(cast.coach)
    assert queue["pressed"] in mine
    assert queue["held"] not in mine


def test_the_desk_counts_what_it_shows_and_has_a_way_out(coach, queue) -> None:
    page = coach.get(reverse("desk"), {"family": "squat"}).content.decode()
    assert page.count("data-line") == 5
    assert "5 of the 6" in page
    assert "fit all 4 of these" in page, "one of the five is in other hands"
    assert f'<a href="{reverse("desk")}">Show all 6</a>' in page


def test_nothing_fits_is_said_and_has_a_way_out(coach, queue) -> None:
    page = coach.get(reverse("desk"), {"whose": "mine", "family": "bench"}).content.decode()
    assert "Nothing that waits fits this." in page
    assert "Your desk is clear" not in page
    assert reverse("desk-next") not in page


def test_next_takes_from_what_is_looked_at(coach, cast, queue) -> None:
    coach.post(reverse("desk-next"), {"family": "bench"})
    assert live_claim(queue["pressed"]).coach == cast.coach
    assert live_claim(queue["sore"]) is None


@pytest.mark.parametrize("name", ["desk-tonight", "desk-next", "desk-release"])
def test_it_stays_looked_at(coach, cast, queue, name) -> None:
    args = [queue["plain"].pk] if name == "desk-release" else []
    words = {"whose": "mine", "family": "bench", "what": "pain", "minutes": "30"}
    answer = coach.post(reverse(name, args=args), words)
    place = f"#submission-{args[0]}" if args else ""
    looked_at = "?whose=mine&family=bench&what=pain"
    assert answer.headers["Location"] == reverse("desk") + looked_at + place


def test_more_of_the_same_is_shown(coach, waiting) -> None:
    for _ in range(52):
        waiting(pain=2)
    waiting()
    page = coach.get(reverse("desk"), {"what": "pain"}).content.decode()
    assert "Show the last 2" in page
    assert "?what=pain&amp;show=100#line-51" in page


def test_a_swap_tells_the_address(coach, queue) -> None:
    words = {"whose": "all", "family": "", "what": "pain"}
    answer = coach.get(reverse("desk"), words, headers={"HX-Request": "true"})
    assert answer.headers["HX-Replace-Url"] == reverse("desk") + "?what=pain"
