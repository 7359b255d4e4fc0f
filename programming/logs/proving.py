"""The nightly proof that what was summed up day by day is what the whole log gives."""

import logging
from collections.abc import Iterable
from datetime import date
from typing import Any

from django.db import transaction

from programming.logs.models import DaySummary, SummaryRepair, TouchedDay
from programming.logs.readings import Scope
from programming.logs.summarising import FIGURES, as_rows, computed, lock, rewrite, together

log = logging.getLogger(__name__)

Key = tuple[int, date, str]
Figures = dict[str, Any]


def prove(athletes: Iterable[int]) -> int:
    """Compare every stored summary of these athletes with a full computation; record and put right
    what differs. How many rows differed. A transaction for each `TOGETHER` athletes.

    The figures are sums of whole numbers, so equal means equal. A day whose touch still waits is
    not held against anybody: it is being made again anyhow.
    """
    return sum(_prove(some) for some in together(athletes))


@transaction.atomic
def _prove(athletes: tuple[int, ...]) -> int:
    lock(athletes)
    waiting = set(TouchedDay.objects.filter(athlete__in=athletes).values_list("athlete_id", "day"))
    full = {key: figures for key, figures in _full(athletes) if key[:2] not in waiting}
    kept = {key: figures for key, figures in _stored(athletes) if key[:2] not in waiting}
    wrong = sorted(key for key in full.keys() | kept.keys() if full.get(key) != kept.get(key))
    for athlete_id, day, family in wrong:
        key = (athlete_id, day, family)
        log.error("Summary of athlete %s on %s %r did not follow from the log", *key)
        SummaryRepair.objects.create(
            athlete_id=athlete_id,
            day=day,
            family=family,
            stored=kept.get(key),
            computed=full.get(key),
        )
    for athlete_id in {key[0] for key in wrong}:
        days = sorted({key[1] for key in wrong if key[0] == athlete_id})
        rewrite(Scope(athletes=[athlete_id], days=days))
    return len(wrong)


def _full(athletes: tuple[int, ...]) -> Iterable[tuple[Key, Figures]]:
    for athlete_id, day, family, *figures in as_rows(computed(Scope(athletes=athletes))):
        yield (
            (athlete_id, date.fromisoformat(day), family),
            dict(zip(FIGURES, figures, strict=True)),
        )


def _stored(athletes: tuple[int, ...]) -> Iterable[tuple[Key, Figures]]:
    rows = DaySummary.objects.filter(athlete__in=athletes).order_by()
    for row in rows.values_list("athlete_id", "day", "family", *FIGURES):
        yield row[:3], dict(zip(FIGURES, row[3:], strict=True))
