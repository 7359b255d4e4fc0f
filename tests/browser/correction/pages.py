"""From a note to the programme, in the states a coach meets."""

from datetime import date, timedelta
from decimal import Decimal
from urllib.parse import urlencode

from django.urls import reverse

from athletes.local_time import today_of
from programming.corrections.preview import preview
from programming.corrections.requests import Wish
from programming.corrections.services.apply_correction import apply
from programming.logs.models import MaxKind, MaxRecord, MaxSource
from programming.models import Change, Movement, Prescription
from programming.plans.models.correction import Kind
from reviews.models import Note
from reviews.replies.services.apply_correction import apply_correction
from tests.browser.pages import Look
from tests.browser.reply.factories import make_clip, report_pain
from tests.conftest import Cast
from tests.programming.corrections import ground
from tests.reviews.replies.rows import a_note, a_submission


def a_seen_fault(cast: Cast) -> Note:
    clip = make_clip(a_submission(cast.athlete), movement=ground.movement())
    note = a_note(cast.coach, clip, 40, 40)
    Note.objects.filter(pk=note.pk).update(
        fault_name="Hips rise first",
        cue_text="Push the floor away.",
        text="The hips come up and the bar waits; the back takes what the legs give up.",
        rep=2,
    )
    return Note.objects.get(pk=note.pk)


def planned(cast: Cast) -> Note:
    """A note, a programme from tomorrow on and a technical max."""
    today = today_of(cast.athlete)
    ground.programme(cast.athlete, starts_on=today + timedelta(days=1))
    MaxRecord.objects.create(
        athlete=cast.athlete,
        movement=ground.movement(),
        kind=MaxKind.TECHNICAL,
        source=MaxSource.HAND,
        reason="Meet in October",
        day=today,
        kg=Decimal(160),
        low_kg=Decimal(160),
        high_kg=Decimal(160),
    )
    return a_seen_fault(cast)


def address(note: Note, **asked: object) -> str:
    asked = {"movement": ground.movement().pk, "weeks": 4, **asked} if asked else {}
    return reverse("correction", args=[note.clip.submission_id, note.pk]) + "?" + urlencode(asked)


def wish_of(cast: Cast, until: date, **more: object) -> Wish:
    return Wish(movement=ground.movement(), until=until, **more)


def fresh(cast: Cast) -> str:
    return address(planned(cast))


def capped(cast: Cast) -> str:
    return address(planned(cast), kind="cap", **{"cap-percent": 90})


def clashing(cast: Cast) -> str:
    """One that runs already holds the first session."""
    note = planned(cast)
    athlete = cast.athlete
    today = today_of(athlete)
    wish = wish_of(cast, today + timedelta(days=2), kind=Kind.DOSE, sets=2)
    seal = preview(athlete, wish, today=today).seal
    apply_correction(coach=cast.coach, note=note, wish=wish, seal=seal)
    drill = Wish(
        kind=Kind.ADD_DRILL,
        movement=ground.movement(),
        until=today + timedelta(days=9),
        drill=Movement.objects.get(club=None, name="Pause squat"),
        sets=3,
        reps=4,
    )
    apply(
        coach=cast.coach,
        athlete=athlete,
        wish=drill,
        today=today,
        seal=preview(athlete, drill, today=today).seal,
        check_back_on=today + timedelta(days=10),
    )
    return address(note, kind="dose", **{"dose-sets": 5})


def applied(cast: Cast) -> str:
    """What the note did, for an athlete who reported pain."""
    note = planned(cast)
    report_pain(note.clip.submission, "night")
    today = today_of(cast.athlete)
    wish = wish_of(cast, today + timedelta(weeks=4), kind=Kind.CAP, percent=Decimal(85))
    apply_correction(
        coach=cast.coach,
        note=note,
        wish=wish,
        seal=preview(cast.athlete, wish, today=today).seal,
        check_back_on=today + timedelta(days=10),
    )
    return address(note)


def unplanned(cast: Cast) -> str:
    return address(a_seen_fault(cast), kind="hold")


def incomplete(cast: Cast) -> str:
    return address(planned(cast), kind="rebuild", **{"rebuild-name": "Flat back"})


def why(cast: Cast) -> str:
    """Seen by the athlete: a line that a correction changed."""
    clashing(cast)
    return reverse("why", args=[Change.objects.first().prescription_id])


def why_not(cast: Cast) -> str:
    planned(cast)
    return reverse("why", args=[Prescription.objects.first().pk])


PAGES = [
    Look("why", "athlete", why),
    Look("why", "coach", why_not, state="plain"),
    Look("correction", "coach", fresh),
    Look("correction", "coach", capped, state="capped"),
    Look("correction", "coach", applied, state="applied"),
    Look("correction", "coach", clashing, state="clashing"),
    Look("correction", "coach", unplanned, state="unplanned"),
    Look("correction", "coach", incomplete, state="incomplete"),
]
