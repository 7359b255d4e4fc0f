"""The queue a part at a time. Its order has four keys and none is unique but the last, so a part
begins behind a place in the order, not behind a number of rows."""

import base64
import json
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from django.db.models import Q, QuerySet
from django.utils.dateparse import parse_datetime
from rest_framework.exceptions import NotFound

PART = 50
KEYS = ("section", "urgency", "sent_at", "pk")  # as `in_queue_order` has them
Place = tuple[Any, ...]


@dataclass(frozen=True)
class Part:
    rows: list[Any]
    following: str | None  # the cursor of what comes after


def part_of_queue(queue: QuerySet[Any], after: Place | None) -> Part:
    """Up to `PART` rows of ``queue`` behind ``after``, from its beginning without. One statement.

    A question that moves forward in the meantime (it became overdue) may be passed over by who
    reads on; it stands in the first parts of the next reading.
    """
    rows = list((queue if after is None else queue.filter(_behind(after)))[: PART + 1])
    return Part(rows[:PART], _cursor(rows[PART - 1]) if len(rows) > PART else None)


def _behind(place: Place) -> Q:
    """Row-value comparison, written out: not every database compares an expression in a tuple."""
    found = Q()
    for n, key in enumerate(KEYS):
        same = dict(zip(KEYS[:n], place[:n], strict=True))
        found |= Q(**same, **{f"{key}__gt": place[n]})
    return found


def _cursor(row: Any) -> str:
    place = [row.section, row.urgency, row.sent_at.isoformat(), str(row.pk)]
    return base64.urlsafe_b64encode(json.dumps(place).encode()).decode()


def place_in(cursor: str | None) -> Place | None:
    """Raises NotFound (404) for what no part of the queue ever gave."""
    if cursor is None:
        return None
    try:
        section, urgency, sent, pk = json.loads(base64.urlsafe_b64decode(cursor))
        at = parse_datetime(sent)
        if at is None or at.tzinfo is None or not {section, urgency} <= set(range(10)):
            raise ValueError(cursor)
        return section, urgency, at, UUID(pk)
    except (ValueError, TypeError, AttributeError, RecursionError):
        raise NotFound("This cursor was not given by the desk.") from None
