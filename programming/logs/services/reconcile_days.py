"""The nightly proof that what was derived step by step is what the whole log gives."""

import logging
from collections.abc import Iterable
from datetime import date
from typing import Any

from django.db import transaction

from athletes.models import User
from programming.logs.models import DaySummary, DirtyDay, SummaryRepair
from programming.logs.selectors.log_arrays import Scope
from programming.logs.services.refresh_maxes import rebuild_maxes
from programming.logs.services.summarize_days import (
    FIGURES,
    as_rows,
    batches,
    computed,
    lock,
    rewrite,
)


def reconcile_maxes(athletes: Iterable[int]) -> int:
    """Make every estimate of these athletes again and put right what differs, which is logged as an
    error. How many maxes differed. A transaction for each athlete; one whose dirty days still
    wait is left to them.
    """
    waiting = set(DirtyDay.objects.order_by().values_list("athlete_id", flat=True))
    differed = 0
    for athlete_id in athletes:
        if athlete_id in waiting:
            continue
        wrong = rebuild_maxes(athlete=User(pk=athlete_id))
        if wrong:
            log.error("%s maxes of athlete %s did not follow from the log", wrong, athlete_id)
        differed += wrong
    return differed


log = logging.getLogger(__name__)

Key = tuple[int, date, str]
Figures = dict[str, Any]


def reconcile_days(athletes: Iterable[int]) -> int:
    """Compare every stored summary of these athletes with a full computation; record and put right
    what differs. How many rows differed. A transaction for each `BATCH_SIZE` athletes.

    The figures are sums of whole numbers, so equal means equal. A day that is still dirty is
    not held against anybody: it is being made again anyhow.
    """
    return sum(_reconcile(batch) for batch in batches(athletes))


@transaction.atomic
def _reconcile(athletes: tuple[int, ...]) -> int:
    lock(athletes)
    waiting = set(DirtyDay.objects.filter(athlete__in=athletes).values_list("athlete_id", "day"))
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
