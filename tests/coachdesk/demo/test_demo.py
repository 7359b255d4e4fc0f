"""The demo's scenario: every word of it exists, and founding it twice founds it once."""

from datetime import timedelta

import pytest

from athletes.local_time import today_of
from athletes.models import Role, User
from coachdesk.demo.club_people import PASSWORD, PEOPLE, SIGN_INS
from coachdesk.demo.create_club import WEEK, found
from coachdesk.demo.drawing.fault_motion import check, strengths
from coachdesk.demo.play_scenario import spec_of, submissions, undrawn
from programming.models import Programme
from reviews.library.models import Fault
from reviews.models import Submission

pytestmark = pytest.mark.django_db


def test_founding_twice_founds_one_club_with_its_week() -> None:
    club = found()
    assert found() == club
    assert User.objects.filter(club=club, role=Role.ATHLETE).count() == 12
    assert User.objects.filter(club=club, role=Role.COACH).count() == 3
    assert Submission.objects.filter(club=club, state="waiting").count() == len(WEEK)
    assert [
        ask.who for ask, row in submissions() if row.athlete.email.split("@")[0] != ask.who
    ] == []


def test_the_printed_sign_ins_open_the_door(client) -> None:
    found()
    people = {person.key: person for person in PEOPLE}
    for key in SIGN_INS:
        answer = client.post("/accounts/login/", {"login": people[key].email, "password": PASSWORD})
        assert answer.status_code == 302
        client.logout()


def test_every_clip_can_be_drawn_and_shows_what_it_is_said_to_show() -> None:
    found()
    drawn = list(undrawn())
    assert len(drawn) == sum(len(ask.shots) for ask in WEEK)
    for _, shot, spec in drawn:
        check(spec)
        strongest = max((max(v) for v in strengths(spec).values()), default=0)
        assert (strongest > 0.3) == shot.shows_fault


def test_every_fault_that_a_coach_names_is_in_the_library_with_words_to_say() -> None:
    club = found()
    for ask in WEEK:
        for point in ask.answer.points if ask.answer else ():
            family = ask_family(ask)
            fault = Fault.objects.get(club=club, family=family, name=point.fault)
            assert fault.cues.exists()
            assert fault.drills.exists()
            assert point.rep <= ask.shots[point.clip].reps


def ask_family(ask) -> str:
    lifts = {"bench_press": "bench", "overhead_press": "press"}
    lift = ask.shots[0].lift
    return lifts.get(lift, lift)


def test_slow_motion_is_short_and_the_lying_lift_is_filmed_in_landscape() -> None:
    for ask in WEEK:
        for shot in ask.shots:
            spec = spec_of(shot, 1, 1)
            assert (spec.size[0] > spec.size[1]) == (shot.lift == "bench_press")
            assert (spec.seconds is not None) == (shot.profile == "slow240")


def test_programmes_run_now_and_follow_a_template() -> None:
    found()
    template = Programme.objects.get(athlete=None)
    assert template.progressions.count() == 5
    for key in ("emeka", "greta"):
        made = Programme.objects.get(athlete__email__startswith=key)
        today = today_of(made.athlete)
        days = set(made.sessions.filter(week=1).values_list("day", flat=True))
        assert min(days) <= today <= max(days) + timedelta(days=7 - len(days))
        assert made.sessions.count() == 12
        assert made.sessions.filter(prescriptions=None).count() == 0
