"""Taking a correction back or ending it, and telling the athlete who was told of it."""

from datetime import date

from django.db import transaction

from athletes.local_time import today_of
from athletes.models import User
from programming.corrections.services.take_back_correction import end, take_back
from programming.plans.models.correction import Correction
from reviews.replies.models import NoticeEvent
from reviews.replies.services.programme_notices import notify_withdrawn


@transaction.atomic
def take_correction_back(*, coach: User, correction: Correction) -> None:
    """One transaction. Raises Invalid, see `take_back`."""
    take_back(correction=correction, by=coach, today=today_of(correction.athlete))
    notify_withdrawn(correction, NoticeEvent.TAKEN_BACK)


@transaction.atomic
def end_correction(*, coach: User, correction: Correction, from_day: date) -> None:
    """One transaction. Raises Invalid, see `end`."""
    today = today_of(correction.athlete)
    end(correction=correction, by=coach, today=today, from_day=from_day)
    notify_withdrawn(correction, NoticeEvent.ENDED)
