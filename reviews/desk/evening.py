"""The desk as one evening: what waits, how long it takes, where the coach's time ends."""

from dataclasses import dataclass, field
from datetime import timedelta
from functools import cached_property
from itertools import groupby
from uuid import UUID

from django.db.models import Count, Prefetch, QuerySet
from django.utils import timezone

from athletes.models import User
from reviews.desk.models import Claim
from reviews.desk.pace import Pace, pace_of
from reviews.desk.queries import (
    Section,
    clip_counts,
    in_queue_order,
    live_claims,
    overdue_before,
)
from reviews.desk.sifting import EVERYTHING, Sifted
from reviews.intake.models import (
    AngleOutcome,
    AngleRequest,
    Clip,
    ClipState,
    State,
    Submission,
    Urgency,
)
from reviews.permissions import submissions_reviewable_by

LINES_A_PAGE = 50
BAR_EVENINGS = 2.0  # what the bar shows: weeks of backlog must not squeeze tonight to a sliver
USUAL_EVENING = 90  # minutes
LONGEST_EVENING = 240  # minutes; also the most lines it can take at a minute each


@dataclass(frozen=True)
class Slot:
    """One free submission on the bar of minutes."""

    id: UUID
    section: Section
    minutes: float
    fits: bool


@dataclass(frozen=True)
class Line:
    """One submission as the desk shows it."""

    number: int  # from 1, over all sections
    submission: Submission
    section: Section
    minutes: float
    claim: Claim | None = None  # live
    is_held: bool = False  # by another coach
    is_next: bool = False
    first_outside: bool = False  # the cut stands above this one

    @cached_property
    def clips(self) -> list[Clip]:
        return list(self.submission.clips.all())

    @property
    def is_mine(self) -> bool:
        return self.claim is not None and not self.is_held

    @property
    def main_clip(self) -> Clip | None:
        """The clip the question is about: the one that shows the fault, else the last."""
        showing = [clip for clip in self.clips if clip.shows_fault]
        return next(iter(showing or self.clips[-1:]), None)

    @property
    def back_with(self) -> AngleRequest | None:
        """The other angle it came back with, while that is what it waits with."""
        found: list[AngleRequest] = getattr(self.submission, "angles_back", [])
        return next(iter(found), None) if self.submission.back_at else None

    @property
    def unplayable(self) -> list[Clip]:
        return [clip for clip in self.clips if clip.state == ClipState.FAILED]

    @property
    def unready(self) -> list[Clip]:
        return [c for c in self.clips if c.state in {ClipState.RECEIVING, ClipState.PROCESSING}]

    @property
    def has_warning_sign(self) -> bool:
        return self.submission.urgency == Urgency.WARNING_SIGN

    @property
    def is_overdue(self) -> bool:
        sent = self.submission.sent_at
        return sent is not None and sent < overdue_before(timezone.now())


@dataclass(frozen=True)
class Week:
    answered: int
    waiting: int
    on_athlete: int


@dataclass(frozen=True)
class Evening:
    tonight: int  # minutes the coach has
    pace: Pace
    slots: list[Slot]  # free ones in order, as many as an evening can hold
    free: int
    lines: list[Line]
    week: Week  # the whole club's
    waiting: int  # of what is looked at
    shown: int
    handed: list[Claim]  # to this coach, and not begun
    sections: list[tuple[Section, list[Line]]] = field(init=False)

    def __post_init__(self) -> None:
        grouped = [(key, list(part)) for key, part in groupby(self.lines, lambda x: x.section)]
        object.__setattr__(self, "sections", grouped)

    @property
    def fitting(self) -> list[Slot]:
        return [slot for slot in self.slots if slot.fits]

    @property
    def fit_minutes(self) -> float:
        return sum(slot.minutes for slot in self.fitting)

    @property
    def free_minutes(self) -> float:
        """Of all that is free; when `is_about`, those not read count like the ones that were."""
        if not self.slots:
            return 0.0
        return sum(slot.minutes for slot in self.slots) / len(self.slots) * self.free

    @property
    def is_about(self) -> bool:
        return len(self.slots) < self.free

    @property
    def first_minutes(self) -> float:
        """Minutes of warning signs and pain among those that fit."""
        return sum(slot.minutes for slot in self.fitting if slot.section == Section.FIRST)

    @property
    def held(self) -> int:
        return self.waiting - self.free

    @property
    def next_number(self) -> int:
        return len(self.lines) + 1

    @property
    def left_out(self) -> int:
        return self.waiting - len(self.lines)


Place = tuple[UUID, Section]


def _head(
    waiting: QuerySet[Submission], *, shown: int, tonight: int, pace: Pace, held: int
) -> list[Place]:
    """The head of the queue: what is shown, and what the bar of minutes can hold."""
    # Each takes at least the time of one clip; one more stands after the cut.
    most = int(min(BAR_EVENINGS * tonight / pace.per_clip, LONGEST_EVENING)) + 1 + held
    rows = in_queue_order(waiting).values_list("pk", "section")
    return [(pk, Section(section)) for pk, section in rows[: max(shown, most)]]


def _slots(free: list[Place], pace: Pace, tonight: int) -> list[Slot]:
    """What fits, by a straight cut: nothing is pulled forward over one that does not fit."""
    clips = clip_counts(pk for pk, _ in free)
    slots, spent, fits = [], 0.0, True
    for pk, section in free:
        minutes = pace.minutes(clips.get(pk, 0))
        spent += minutes
        fits = fits and spent <= tonight
        slots.append(Slot(pk, section, minutes, fits))
    return slots


def _lines(
    head: list[Place], coach: User, pace: Pace, slots: list[Slot], live: dict[UUID, Claim]
) -> list[Line]:
    """The shown part of the queue with its people, clips and angles. Three statements."""
    clips = Prefetch("clips", Clip.objects.select_related("movement"))
    rows = Submission.objects.select_related("athlete", "pain", "check_back_of")
    back = AngleRequest.objects.filter(outcome=AngleOutcome.CAME).select_related("asked_by")
    angles = Prefetch("angles", back, to_attr="angles_back")
    found = rows.prefetch_related(clips, angles).in_bulk([pk for pk, _ in head])
    first = slots[0].id if slots else None
    outside = next((slot.id for slot in slots if not slot.fits), None)
    return [
        Line(
            number=number,
            submission=found[pk],
            section=section,
            minutes=pace.minutes(len(found[pk].clips.all())),
            claim=live.get(pk),
            is_held=pk in live and live[pk].coach_id != coach.pk,
            is_next=pk == first,
            first_outside=pk == outside,
        )
        for number, (pk, section) in enumerate(head, 1)
        if pk in found  # it may be gone since the queue was read
    ]


def _week(coach: User) -> Week:
    """Since Monday in the coach's zone. Two statements, each along its own index."""
    today = timezone.localtime().replace(hour=0, minute=0, second=0, microsecond=0)
    monday = today - timedelta(days=today.weekday())
    seen = submissions_reviewable_by(coach)
    open_ = seen.filter(state__in=[State.WAITING, State.WAITING_ON_ATHLETE])
    counts = dict(open_.order_by().values_list("state").annotate(Count("pk")))
    return Week(
        answered=seen.filter(answered_at__gte=monday).count(),
        waiting=counts.get(State.WAITING, 0),
        on_athlete=counts.get(State.WAITING_ON_ATHLETE, 0),
    )


def evening_of(
    coach: User, *, tonight: int, shown: int = LINES_A_PAGE, sifted: Sifted = EVERYTHING
) -> Evening:
    """Everything the desk shows, in ten statements whatever the number of submissions; two
    more when only a part is looked at."""
    pace, waiting = pace_of(coach), sifted.waiting(coach)
    live, week = live_claims(coach), _week(coach)
    held = {pk for pk, claim in live.items() if claim.coach_id != coach.pk}
    count = week.waiting
    if sifted:
        held = set(waiting.filter(pk__in=held).values_list("pk", flat=True))
        count = waiting.count()
    head = _head(waiting, shown=shown, tonight=tonight, pace=pace, held=len(held))
    slots = _slots([place for place in head if place[0] not in held], pace, tonight)
    return Evening(
        tonight=tonight,
        pace=pace,
        slots=slots,
        free=count - len(held),
        lines=_lines(head[:shown], coach, pace, slots, live),
        week=week,
        waiting=count,
        shown=shown,
        handed=[c for c in live.values() if c.coach_id == coach.pk and c.handed_by_id],
    )
