"""Keeping the estimated maxes in step with the log. Each public function is one transaction.

Estimates are derived: `rebuild_maxes` drops and makes them again to the same records, and
`refresh_days` after a change gives what a rebuild would.
"""

from collections.abc import Collection, Iterable, Iterator
from datetime import date
from decimal import Decimal
from typing import Any

from django.db import transaction
from django.db.models import QuerySet

from athletes.models import User
from programming.logs.max_estimates import stretch
from programming.logs.models import LoggedSet, MaxKind, MaxRecord, MaxSource, SetVerdict
from programming.logs.selectors.counted_sets import Lifted, Whose, lifted_between, lifted_on
from programming.logs.selectors.current_maxes import in_force_order
from programming.logs.services.mark_dirty_days import best_max_changed
from programming.movements.models import Movement

Steps = dict[date, Decimal]
Key = tuple[int, str]  # movement, kind
# Of so many changed days each is looked at by itself; of an imported log, all at once.
FEW_DAYS = 7


@transaction.atomic(savepoint=False)  # of every change: two statements saved where one is open
def refresh_days(*, athlete: User, days: Collection[date]) -> None:
    """Bring the maxes up to date after sets or verdicts of ``days`` came, changed or went. One
    transaction. Most sets raise no max, and then only the days themselves are read; else all since
    the first of them, of the movement whose max changed. Days whose summary hangs on a best max
    that changed are marked dirty."""
    if not days:
        return
    _alone(athlete)
    for day in days:
        match_day(athlete=athlete, day=day)
    if len(days) > FEW_DAYS:
        moved = _of_days(athlete, days)
    else:
        moved = {key for day in days for key in _fallen(athlete, day)}
    movements = Movement.objects.in_bulk({pk for pk, _ in moved}) if moved else {}
    for pk, kind in sorted(moved):
        _remake(Whose(athlete, movements[pk], kind), min(days))


@transaction.atomic
def refresh_since(*, athlete: User, day: date, movements: Iterable[Movement]) -> int:
    """Make the estimates of these movements again from ``day`` on; of how many maxes they differed.
    One transaction."""
    _alone(athlete)
    whose = [Whose(athlete, movement, kind) for movement in movements for kind in MaxKind.values]
    return sum(_remake(one, day) for one in whose)


@transaction.atomic
def rebuild_maxes(*, athlete: User) -> int:
    """Make every estimate of this athlete again; of how many maxes they differed. One
    transaction."""
    known = _movement_ids(
        LoggedSet.objects.filter(session__athlete=athlete),
        SetVerdict.objects.filter(athlete=athlete),
        MaxRecord.objects.filter(athlete=athlete),
    )
    movements = Movement.objects.filter(pk__in=known)
    return refresh_since(athlete=athlete, day=date.min, movements=movements)


def _movement_ids(*rows: QuerySet[Any]) -> set[int]:
    """One statement each: asked in one, the joins go through the sets of every athlete."""
    return {
        pk
        for each in rows
        for pk in each.order_by().values_list("movement_id", flat=True).distinct()
    }


def _alone(athlete: User) -> None:
    """Two changes at once go one by one; a foreign key to the person need not wait."""
    User.objects.select_for_update(no_key=True).values_list("pk").get(pk=athlete.pk)


def _of_days(athlete: User, days: Collection[date]) -> set[Key]:
    """Those lifted or judged then, and those whose estimate rests on a set that was there."""
    sets = LoggedSet.objects.filter(session__athlete=athlete, session__day__in=days)
    verdicts = SetVerdict.objects.filter(athlete=athlete, day__in=days)
    records = MaxRecord.objects.filter(athlete=athlete, day__in=days, source=MaxSource.ESTIMATE)
    ids = _movement_ids(sets, verdicts, records)
    return {(pk, kind) for pk in ids for kind in MaxKind.values}


def _fallen(athlete: User, day: date) -> Iterator[Key]:
    """Those of which the day's sets do not give the record that is there. What follows a day
    depends on it only through that record, so of all others nothing later changes either."""
    lifted = lifted_on(athlete, day)
    records = MaxRecord.objects.filter(athlete=athlete, day=day, source=MaxSource.ESTIMATE)
    for key in lifted.keys() | set(records.order_by().values_list("movement_id", "kind")):
        if not _stands(athlete, key, day, lifted.get(key, [])):
            yield key


def _stands(athlete: User, key: Key, day: date, lifted: list[Lifted]) -> bool:
    movement, kind = key
    upto = MaxRecord.objects.filter(athlete=athlete, movement=movement, kind=kind, day__lte=day)
    # A day has at most one estimate: two rows of it, or one by hand, need no record before them.
    newest = list(in_force_order(upto).reverse()[:2])
    of_day = [row for row in newest if row.day == day]
    if any(row.source == MaxSource.HAND for row in of_day):
        return len(of_day) == 1
    before = next((row for row in newest if row.day < day), None)
    made = stretch(lifted, before)
    return [_said(row) for row in of_day] == [_said(row) for row in made]


def _records(whose: Whose) -> QuerySet[MaxRecord]:
    return MaxRecord.objects.filter(athlete=whose.athlete, movement=whose.movement, kind=whose.kind)


def _said(row: MaxRecord) -> tuple[object, ...]:
    return row.day, row.kg, row.low_kg, row.high_kg, row.inputs


def _remake(whose: Whose, day: date) -> bool:
    """Whether anything differed. Between two records by hand the max only rises, so each such
    stretch is made by itself."""
    by_hand = in_force_order(_records(whose).filter(day__gte=day, source=MaxSource.HAND))
    before = in_force_order(_records(whose).filter(day__lt=day)).last()
    estimated = _records(whose).filter(day__gte=day, source=MaxSource.ESTIMATE).order_by("day")
    kept = list(estimated)
    sets = lifted_between(whose, day)
    made: list[MaxRecord] = []
    for row in [*by_hand, None]:
        upto = date.max if row is None else row.day
        # A record by hand stands against all of its own day.
        made += stretch([one for one in sets if one.day < upto], before)
        sets = [one for one in sets if one.day > upto]
        before = row
    if [_said(row) for row in kept] == [_said(row) for row in made]:
        return False
    estimated.delete()
    for one in made:
        one.athlete, one.movement, one.kind = whose.athlete, whose.movement, whose.kind
    MaxRecord.objects.bulk_create(made)
    if whose.kind == MaxKind.BEST:
        _tell(whose, {row.day: row.kg for row in kept}, {row.day: row.kg for row in made})
    return True


def _tell(whose: Whose, were: Steps, are: Steps) -> None:
    for day in sorted(were.keys() | are.keys()):
        if were.get(day) != are.get(day):
            best_max_changed(whose.athlete, whose.movement, day)


Shape = tuple[int, Decimal | None, int]  # movement, load, reps


def match_day(*, athlete: User, day: date) -> None:
    """Link each filmed set of the day to the set of the log it must be: the only one with its
    movement, load and reps, where no other film claims that too. Three sets alike cannot be told
    apart by one film, so they stay unlinked; where each of them was filmed, they are linked in
    their order, or what a film shows missed would still count from the log. Inside the caller's
    transaction.

    A rep that was missed stands beside the reps of the log, and on the film it is one of them.
    """
    verdicts = list(SetVerdict.objects.filter(athlete=athlete, day=day).order_by("pk"))
    if not verdicts:
        return
    filmed: dict[Shape, list[SetVerdict]] = {}
    for verdict in verdicts:
        shape: Shape = (verdict.movement_id, verdict.load_kg, verdict.reps)
        filmed.setdefault(shape, []).append(verdict)
    logged: dict[Shape, list[LoggedSet]] = {}
    sets = LoggedSet.objects.filter(session__athlete=athlete, session__day=day)
    for one in sets.order_by("session__started_at", "position", "done_at", "pk"):
        shape = (one.movement_id, one.load_kg, one.reps + one.missed_reps)
        logged.setdefault(shape, []).append(one)
    links = {
        claim.pk: one
        for shape, claims in filmed.items()
        if len(claims) == len(logged.get(shape, []))
        for claim, one in zip(claims, logged[shape], strict=True)
    }
    wrong = [v for v in verdicts if v.logged_set_id and links.get(v.pk) != v.logged_set]
    SetVerdict.objects.filter(pk__in=[v.pk for v in wrong]).update(logged_set=None)
    for verdict in verdicts:
        found = links.get(verdict.pk)
        if found is not None and verdict.logged_set_id != found.pk:
            SetVerdict.objects.filter(pk=verdict.pk).update(logged_set=found)
