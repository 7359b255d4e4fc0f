"""What a wish would change, prescription by prescription, before anything happens."""

import hashlib
import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from django.db.models import Exists, OuterRef, Prefetch, QuerySet

from athletes.models import User
from programming.corrections.requests import Wish
from programming.corrections.snapshots import Snapshot, changed, snapshot
from programming.logs.models import LoggedSet
from programming.permissions import movements_of
from programming.plans.models import PlannedSession, Prescription, TargetKind
from programming.plans.models.correction import Change, Correction, Kind, Place
from programming.plans.running_corrections import with_corrections


@dataclass(frozen=True, kw_only=True)
class Line:
    """One prescription before and after. ``before`` is None where a drill is added; ``clashes``
    are the running corrections that changed the same thing, which therefore stays as it is."""

    session: PlannedSession
    prescription: Prescription | None
    before: Snapshot | None
    after: Snapshot
    position: int
    clashes: tuple[Correction, ...] = ()

    @property
    def happens(self) -> bool:
        return not self.clashes and self.before != self.after


@dataclass(frozen=True, kw_only=True)
class Preview:
    wish: Wish
    sessions: list[PlannedSession]  # all that are still to come, changed or not
    lines: list[Line]

    @property
    def happening(self) -> list[Line]:
        return [line for line in self.lines if line.happens]

    @property
    def clashing(self) -> list[Line]:
        return [line for line in self.lines if line.clashes]

    @property
    def seal(self) -> str:
        """Changes with anything it shows: what is applied is what was looked at."""
        seen: list[Any] = [self.wish.to_json()]
        for line in self.lines:
            place = [str(line.session.pk), line.session.day, line.position]
            clashes = [str(clash.pk) for clash in line.clashes]
            seen.append([place, line.prescription, line.before, line.after, clashes])
        text = json.dumps(seen, sort_keys=True, default=_key)
        return hashlib.sha256(text.encode()).hexdigest()


def _key(value: Any) -> str:
    return str(value.pk) if isinstance(value, Prescription) else str(value)


def coming(athlete: User, *, today: date, until: date) -> QuerySet[PlannedSession]:
    """Sessions of running programmes from ``today`` on of which no set was logged yet: what is
    done stays as it was. Two statements, prescriptions with the corrections they carry."""
    trained = LoggedSet.objects.filter(session__planned=OuterRef("pk"))
    lines = with_corrections(Prescription.objects.select_related("movement"))
    return (
        PlannedSession.objects.filter(
            programme__athlete=athlete,
            programme__ended_at=None,
            day__gte=today,
            day__lte=until,
        )
        .exclude(Exists(trained))
        .select_related("programme")
        .prefetch_related(Prefetch("prescriptions", queryset=lines))
        .order_by("day", "position")
    )


def preview(athlete: User, wish: Wish, *, today: date) -> Preview:
    """A bounded number of statements, whatever the programme's length.

    Raises Invalid where the wish is incomplete.
    """
    wish = _with_known_drill(athlete, wish.checked())
    sessions = list(coming(athlete, today=today, until=wish.until))
    lines = [line for session in sessions for line in _lines(session, wish)]
    return Preview(wish=wish, sessions=sessions, lines=lines)


def _with_known_drill(athlete: User, wish: Wish) -> Wish:
    """A drill that this athlete can lift already is that movement, however its name is typed."""
    if wish.kind != Kind.ADD_DRILL or wish.drill is not None:
        return wish
    name = " ".join(wish.drill_name.split())
    return replace(wish, drill=movements_of(athlete).filter(name__iexact=name).first())


def _lines(session: PlannedSession, wish: Wish) -> Iterator[Line]:
    own = [p for p in session.prescriptions.all() if p.movement_id == wish.movement.pk]
    if wish.kind == Kind.ADD_DRILL:
        if own:
            yield _added_before(session, wish) or _added(session, own, wish)
        return
    for prescription in own:
        before = snapshot(prescription)
        after = {**before, **_wanted(before, wish)}
        yield Line(
            session=session,
            prescription=prescription,
            before=before,
            after=after,
            position=prescription.position,
            clashes=_clashes(prescription, changed(before, after)),
        )


def _added_before(session: PlannedSession, wish: Wish) -> Line | None:
    """The line of this drill that a running correction added: it is not added a second time."""
    for line in session.prescriptions.all():
        if wish.drill is None or line.movement_id != wish.drill.pk:
            continue
        if any(change.before is None for change in line.running):
            there = snapshot(line)
            return Line(
                session=session,
                prescription=line,
                before=there,
                after=there,
                position=line.position,
            )
    return None


def _added(session: PlannedSession, own: list[Prescription], wish: Wish) -> Line:
    everything = [p.position for p in session.prescriptions.all()]
    place = {
        Place.BEFORE: min(p.position for p in own),
        Place.AFTER: max(p.position for p in own) + 1,
        Place.LAST: max(everything) + 1,
    }[wish.place]
    fresh = Prescription(
        movement=wish.drill,
        sets=wish.sets or 0,
        reps=wish.reps or 0,
        target_kind=wish.target_kind,
        target=wish.target,
        tempo=wish.tempo,
        rest_seconds=wish.rest_seconds,
        note=wish.note,
    )
    after = {**snapshot(fresh), "unit": own[0].unit}
    return Line(session=session, prescription=None, before=None, after=after, position=place)


def _wanted(before: Snapshot, wish: Wish) -> Snapshot:
    """The fields that are to be different, and what they become."""
    if wish.kind == Kind.CAP and wish.percent is not None:
        lower = _lower(before["cap_percent"], f"{wish.percent.normalize():f}")
        return {"cap_percent": lower}
    if wish.kind == Kind.HOLD:
        return {"held": True}
    wanted = _given(wish)
    if wish.kind == Kind.DOSE:
        return wanted
    moved = {"movement_id": wish.to.pk if wish.to else None, "cap_percent": None}
    # Kilograms were chosen for the old movement and say nothing about another one.
    loose = before["target_kind"] == TargetKind.KG
    return {**moved, **({"target_kind": "", "target": None} if loose else {}), **wanted}


def _lower(one: str | None, other: str) -> str:
    return min(one, other, key=float) if one else other


def _given(wish: Wish) -> Snapshot:
    named: Snapshot = {}
    if wish.target is not None:
        named |= {"target_kind": wish.target_kind, "target": f"{wish.target.normalize():f}"}
    for name in ("sets", "reps", "rest_seconds", "tempo", "note"):
        if value := getattr(wish, name):
            named[name] = value
    return named


def _clashes(prescription: Prescription, fields: set[str]) -> tuple[Correction, ...]:
    changes: Iterable[Change] = prescription.running
    return tuple(
        change.correction
        for change in changes
        if change.before is not None
        and change.after is not None
        and changed(change.before, change.after) & fields
    )
