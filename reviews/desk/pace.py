"""How long a review takes this coach, from their own answers."""

from dataclasses import dataclass
from statistics import median

from django.conf import settings
from django.db.models import Count, F

from athletes.models import User
from reviews.desk.models import Claim

REPLIES_COUNTED = 60
REPLIES_NEEDED = 5  # a median of fewer says more about one evening than about the coach


@dataclass(frozen=True)
class Pace:
    """Minutes for one clip, and the number of replies that says so (0: the stated default)."""

    per_clip: float
    replies: int

    def minutes(self, clips: int) -> float:
        """Unrounded, so that the sum of many is the sum that is shown."""
        return self.per_clip * max(clips, 1)


def pace_of(coach: User) -> Pace:
    """The median of minutes per clip, from claim to answer, over the last answers.

    A claim that was taken anew after a pause counts from then on. One statement.
    """
    answered = (
        Claim.objects.filter(coach=coach, submission__answered_at__gt=F("taken_at"))
        .annotate(clip_count=Count("submission__clips"))
        .order_by("-taken_at")
        .values_list("taken_at", "submission__answered_at", "clip_count")
    )
    taken = [
        (answer - start).total_seconds() / 60 / max(clips, 1)
        for start, answer, clips in answered[:REPLIES_COUNTED]
        if answer
    ]
    if len(taken) < REPLIES_NEEDED:
        return Pace(per_clip=settings.REVIEW_MINUTES_PER_CLIP, replies=0)
    return Pace(per_clip=median(taken), replies=len(taken))
