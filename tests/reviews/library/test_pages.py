"""The library's pages and its API: reading, keeping, and who may."""

import re

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from reviews.library.keeping import retire
from reviews.library.models import Cue, Drill, Fault
from reviews.library.queries import palette

pytestmark = pytest.mark.filterwarnings("ignore:No directory at")


@pytest.fixture
def coach(client, cast):
    client.force_login(cast.coach)
    return client


@pytest.fixture
def hips(cast) -> Fault:
    return Fault.objects.get(club=cast.coach.club, name="Hips rise first")


def told(client, url: str) -> str:
    return client.get(url).content.decode()


def filled(fault: Fault, **changes: str) -> dict[str, str]:
    names = ["name", "family", "phase", "see", "causes", "breaks", "breaks_note", "goal_note"]
    given = {name: getattr(fault, name) for name in names}
    sight = {f"sight_{view}": mark for view, mark in fault.sight.items()}
    return given | sight | changes


def test_a_lift_is_listed_by_phase_in_the_order_it_happens(coach) -> None:
    page = told(coach, reverse("library") + "?family=deadlift")
    heads = re.findall(r"<h2>(\w+)</h2>", page)
    assert heads == ["Setup", "Ascent", "Lockout", "Return"]
    assert "Slack left in the bar" in page
    assert "Short of depth" not in page


@pytest.mark.parametrize(
    ("letters", "found"),
    [
        ("hips rise", "Hips rise first"),  # a name
        ("PUSH floor", "Hips rise first"),  # words of a cue, in any case and order
        ("pause squat", "Hips rise first"),  # a drill
    ],
)
def test_a_few_letters_find_names_cues_and_drills(coach, letters: str, found: str) -> None:
    page = told(coach, reverse("library") + f"?q={letters}")
    assert found in page
    assert "Touch point wanders" not in page


def test_nothing_found_says_what_to_do(coach) -> None:
    page = told(coach, reverse("library") + "?q=%00<i>zz")
    assert "No fault, cue or drill has “&lt;i&gt;zz”." in page


def test_a_swap_gets_the_part_alone(coach) -> None:
    answer = coach.get(reverse("library"), headers={"HX-Request": "true"})
    assert "<html" not in answer.content.decode()
    assert "HX-Request" in answer.headers["Vary"]
    back = {"HX-Request": "true", "HX-History-Restore-Request": "true"}
    assert "<html" in coach.get(reverse("library"), headers=back).content.decode()


def test_an_entry_shows_everything_it_has(coach, hips) -> None:
    page = told(coach, reverse("library-fault", args=[hips.pk]))
    for words in [hips.see, hips.goal_note, *hips.cause_list, "Shove the bar back", "Pause squat"]:
        assert words in page
    assert re.search(r"<b>Front</b>: cannot tell", page)


def test_adding_an_entry(coach, cast) -> None:
    answer = coach.post(
        reverse("library-add"),
        {
            "name": "  Row  pulled with the back ",
            "family": "other",
            "phase": "ascent",
            "breaks": "no",
            "sight_side": "yes",
            "sight_45": "partly",
            "sight_front": "no",
            "sight_rear": "no",
        },
    )
    fault = Fault.objects.get(name="Row pulled with the back")
    assert answer.headers["Location"] == reverse("library-fault", args=[fault.pk])
    assert (fault.club, fault.added_by) == (cast.coach.club, cast.coach)
    assert fault.sight == {"side": "yes", "45": "partly", "front": "no", "rear": "no"}


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"name": ""}, "Give it a name"),
        ({"name": "knees COME in"}, "“Knees come in” is there already: edit it"),
        ({"name": "Loose brace"}, "“Loose brace” was retired: bring it back"),
        ({"family": "deadlift", "phase": "turnaround"}, "A deadlift has no turnaround."),
        ({"sight_side": "perhaps"}, "Select a valid choice"),
    ],
)
def test_an_error_says_what_to_do_and_loses_nothing(coach, hips, changes, words) -> None:
    retire(entry=Fault.objects.get(club=hips.club, name="Loose brace"))
    data = filled(hips, see="What I have just written.") | changes
    answer = coach.post(reverse("library-edit", args=[hips.pk]), data)
    assert answer.status_code == 422
    page = answer.content.decode()
    assert words in page
    assert "What I have just written." in page
    hips.refresh_from_db()
    assert hips.name == "Hips rise first"


def test_editing_keeps_who_added_it(coach, hips) -> None:
    coach.post(reverse("library-edit", args=[hips.pk]), filled(hips, name="Hips first"))
    hips.refresh_from_db()
    assert (hips.name, hips.added_by) == ("Hips first", None)


def test_retired_is_kept_but_not_offered(coach, hips) -> None:
    coach.post(reverse("library-retire", args=[hips.pk]))
    hips.refresh_from_db()
    when = hips.retired_at
    assert when is not None
    coach.post(reverse("library-retire", args=[hips.pk]))
    hips.refresh_from_db()
    assert hips.retired_at == when, "retiring twice changes nothing"
    offered = coach.get(reverse("api-library"), {"family": "squat"}).json()["faults"]
    assert "Hips rise first" not in [fault["name"] for fault in offered]
    assert "Retired on" in told(coach, reverse("library-fault", args=[hips.pk]))
    coach.post(reverse("library-bring-back", args=[hips.pk]))
    hips.refresh_from_db()
    assert hips.retired_at is None


def test_cues_and_drills_are_kept_on_the_faults_page(coach, cast, hips) -> None:
    coach.post(
        reverse("library-hang", args=[hips.pk, "cues"]),
        {"text": "Carry a tray up the stairs.", "outside_focus": "on"},
    )
    cue = hips.cues.get(text="Carry a tray up the stairs.")
    assert (cue.club, cue.added_by, cue.outside_focus) == (hips.club, cast.coach, True)
    one = [hips.pk, "cues", cue.pk]
    coach.post(reverse("library-hang-edit", args=one), {"text": "Carry the tray level."})
    cue.refresh_from_db()
    assert (cue.text, cue.outside_focus) == ("Carry the tray level.", False)
    coach.post(reverse("library-hang-retire", args=one))
    page = told(coach, reverse("library-fault", args=[hips.pk]))
    assert "1 retired" in page
    coach.post(reverse("library-hang-bring-back", args=one))
    cue.refresh_from_db()
    assert cue.retired_at is None
    coach.post(
        reverse("library-hang", args=[hips.pk, "drills"]), {"name": "Box squat", "dose": "3 × 5"}
    )
    assert hips.drills.filter(name="Box squat", dose="3 × 5").exists()


def test_an_empty_cue_is_refused_where_it_was_typed(coach, hips) -> None:
    answer = coach.post(reverse("library-hang", args=[hips.pk, "cues"]), {"text": " "})
    assert answer.status_code == 422
    assert "Write the words you would say." in answer.content.decode()
    cue = hips.cues.first()
    answer = coach.post(reverse("library-hang-edit", args=[hips.pk, "cues", cue.pk]), {"text": ""})
    assert answer.status_code == 422


def test_another_clubs_library_does_not_exist(client, cast, hips) -> None:
    client.force_login(cast.stranger)
    cue, drill = hips.cues.first(), hips.drills.first()
    urls = {
        reverse("library-fault", args=[hips.pk]): "get",
        reverse("library-edit", args=[hips.pk]): "post",
        reverse("library-retire", args=[hips.pk]): "post",
        reverse("library-bring-back", args=[hips.pk]): "post",
        reverse("library-hang", args=[hips.pk, "cues"]): "post",
        reverse("library-hang-edit", args=[hips.pk, "cues", cue.pk]): "post",
        reverse("library-hang-retire", args=[hips.pk, "drills", drill.pk]): "post",
        reverse("library-hang-bring-back", args=[hips.pk, "drills", drill.pk]): "post",
    }
    for url, method in urls.items():
        assert getattr(client, method)(url).status_code == 404, url
    assert "Hips rise first" in told(client, reverse("library"))  # their own, from the starter
    assert not Fault.objects.filter(pk=hips.pk).exclude(retired_at=None).exists()


def test_a_foreign_cue_cannot_be_reached_through_an_own_fault(client, cast, hips) -> None:
    client.force_login(cast.stranger)
    own = Fault.objects.get(club=cast.stranger.club, name=hips.name)
    cue = hips.cues.first()
    assert (
        client.post(
            reverse("library-hang-edit", args=[own.pk, "cues", cue.pk]), {"text": "Mine now."}
        ).status_code
        == 404
    )
    assert client.post(reverse("library-hang-retire", args=[own.pk, "club", 1])).status_code == 404


def test_athletes_have_no_library(client, cast, hips) -> None:
    client.force_login(cast.athlete)
    assert client.get(reverse("library")).status_code == 403
    assert client.get(reverse("library-fault", args=[hips.pk])).status_code == 403
    assert client.post(reverse("library-retire", args=[hips.pk])).status_code == 403
    assert client.get(reverse("api-library"), {"family": "squat"}).status_code == 403


def test_the_palette_is_the_lift_and_what_fits_any_lift(coach, cast, hips) -> None:
    club = cast.coach.club
    Fault.objects.create(club=club, family="other", phase="setup", name="No plan for the set")
    retire(entry=hips.cues.get(text="Push the floor away."))
    faults = coach.get(reverse("api-library"), {"family": "squat"}).json()["faults"]
    assert {fault["family"] for fault in faults} == {"squat", "other"}
    told_of = next(fault for fault in faults if fault["id"] == hips.pk)
    assert told_of["breaks"] == "degree"
    assert [cue["text"] for cue in told_of["cues"]] == [
        "Shove the bar back into the wall behind you.",
        "Chest and hips leave together.",
    ]
    assert {drill["name"] for drill in told_of["drills"]} == {"Pause squat", "Squat with 3 s down"}
    assert all(drill["dose"] for drill in told_of["drills"])


def test_an_unknown_lift_is_refused(coach) -> None:
    answer = coach.get(reverse("api-library"), {"family": "curl"})
    assert answer.status_code == 400
    assert "Choose one of: squat" in answer.json()["detail"]


def test_the_palette_answers_304_until_something_changes(coach, hips) -> None:
    """RFC 9110, 13.1.2 and 15.4.5: If-None-Match and Not Modified."""
    url = reverse("api-library") + "?family=squat"
    tag = coach.get(url).headers["ETag"]
    same = coach.get(url, headers={"If-None-Match": tag})
    assert (same.status_code, same.content) == (304, b"")
    assert same.headers["ETag"] == tag
    retire(entry=hips)
    assert coach.get(url, headers={"If-None-Match": tag}).status_code == 200


@pytest.mark.parametrize("url", ["/library/?family=squat", "/api/v1/library/?family=squat"])
def test_the_statements_do_not_grow_with_the_library(coach, cast, url: str) -> None:
    def statements() -> int:
        with CaptureQueriesContext(connection) as seen:
            assert coach.get(url).status_code == 200
        return len(seen)

    statements()  # the first request also opens the session
    few = statements()
    club = cast.coach.club
    faults = Fault.objects.bulk_create(
        Fault(club=club, family="squat", phase="ascent", name=f"Fault {n}") for n in range(200)
    )
    for fault in faults[:20]:
        fault.cues.add(Cue.objects.create(club=club, text=f"Say {fault}"))
        fault.drills.add(Drill.objects.create(club=club, name=f"Do {fault}"))
    assert statements() == few


def test_the_palette_is_three_statements(club, django_assert_num_queries) -> None:
    with django_assert_num_queries(3):
        palette(Fault.objects.filter(club=club), ["squat"])
