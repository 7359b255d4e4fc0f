"""Giving a row a rule, and writing the numbers it leads to."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from uuid import UUID

from django.db import transaction

from coachdesk.common.errors import Invalid
from programming.plans.models import Prescription, Programme, Progression, Step, TargetKind
from programming.plans.progression import Rule, at_week
from programming.plans.running_corrections import with_corrections
from programming.plans.services.lock_programme import revise, today_for, why_closed, with_training


@dataclass(frozen=True)
class Wanted:
    """The rule as a coach fills it in."""

    from_week: int
    step: str
    amount: Decimal
    unit: str = "kg"
    deload_every: int | None = None
    deload_percent: Decimal = Decimal(85)


@transaction.atomic
def set_rule(*, programme: Programme, seen: int, row: UUID, wanted: Wanted) -> Progression:
    """Write the rule and the numbers of the coming weeks. One transaction. Raises Invalid where
    the row has nothing to start from; past weeks and other kinds of target keep their numbers."""
    programme = revise(programme, seen=seen)
    first = _line(programme, row, wanted.from_week)
    if first is None or first.target is None:
        raise Invalid(f"Week {wanted.from_week} has no target to start from. Write one first.")
    if wanted.step == Step.SHARE and first.target_kind != TargetKind.KG:
        raise Invalid("A share of the first load needs a load in kg or lb to start from.")
    rule, _ = Progression.objects.update_or_create(
        programme=programme, row=row, defaults=dict(vars(wanted))
    )
    write(programme, rule, first, only=None)
    return rule


@transaction.atomic
def drop_rule(*, programme: Programme, seen: int, row: UUID) -> None:
    """The numbers stay, the rule goes. One transaction."""
    programme = revise(programme, seen=seen)
    programme.progressions.filter(row=row).delete()


def follow(programme: Programme, row: UUID, week: int, before: Prescription) -> list[Prescription]:
    """After the first number of a rule was changed: the weeks that still said what the rule said
    go on from the new one; a number set by hand stays. Inside the caller's transaction."""
    rule = programme.progressions.filter(row=row, from_week=week).first()
    first = _line(programme, row, week)
    if rule is None or first is None or first.target is None or before.target is None:
        return []
    old = rule_of(rule)
    following = {
        line.pk
        for line in _coming(programme, row, week)
        if line.target_kind == before.target_kind
        and line.target == at_week(old, before.target_kind, before.target, line.session.week)
    }
    return write(programme, rule, first, only=following)


def write(
    programme: Programme, rule: Progression, first: Prescription, only: set[UUID] | None
) -> list[Prescription]:
    """The rule's numbers into the coming weeks; ``only`` these prescriptions where given."""
    if first.target is None:
        return []
    changed = []
    for line in _coming(programme, rule.row, rule.from_week):
        same = line.target_kind == first.target_kind if only is None else line.pk in only
        if not same:
            continue
        line.target_kind, line.unit = first.target_kind, first.unit
        line.target = at_week(rule_of(rule), first.target_kind, first.target, line.session.week)
        changed.append(line)
    Prescription.objects.bulk_update(changed, ["target", "target_kind", "unit"])
    return changed


def rule_of(rule: Progression) -> Rule:
    """The row as the pure rule."""
    return Rule(
        from_week=rule.from_week,
        amount=rule.amount,
        share=rule.step == Step.SHARE,
        unit=rule.unit,
        deload_every=rule.deload_every,
        deload_percent=Decimal(rule.deload_percent),
    )


def _line(programme: Programme, row: UUID, week: int) -> Prescription | None:
    lines = Prescription.objects.filter(session__programme=programme, row=row, session__week=week)
    return lines.select_related("session").first()


def _coming(programme: Programme, row: UUID, after: int) -> Iterable[Prescription]:
    """The row's lines in later weeks that may still be changed; what a running correction holds
    keeps its number."""
    open_sessions = with_training(programme.sessions.filter(week__gt=after))
    today = today_for(programme)
    may = [session.pk for session in open_sessions if not why_closed(session, today)]
    lines = Prescription.objects.filter(session__in=may, row=row).select_related("session")
    return [line for line in with_corrections(lines) if not line.running]
