"""The nightly proof that maxes kept step by step are what the whole log gives."""

import logging
from collections.abc import Iterable

from athletes.models import User
from programming.logs.estimating import rebuild
from programming.logs.models import TouchedDay

log = logging.getLogger(__name__)


def prove(athletes: Iterable[int]) -> int:
    """Make every estimate of these athletes again and put right what differs, which is logged as an
    error. How many maxes differed. A transaction for each athlete; one whose touched days still
    wait is left to them.
    """
    waiting = set(TouchedDay.objects.order_by().values_list("athlete_id", flat=True))
    differed = 0
    for athlete_id in athletes:
        if athlete_id in waiting:
            continue
        wrong = rebuild(athlete=User(pk=athlete_id))
        if wrong:
            log.error("%s maxes of athlete %s did not follow from the log", wrong, athlete_id)
        differed += wrong
    return differed
