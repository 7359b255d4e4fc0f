"""How long a review takes this coach, from their own answers."""

from dataclasses import dataclass
from statistics import median

from django.conf import settings
from django.db.models import F

from athletes.models import User
from reviews.desk.models import Claim
from reviews.desk.queries import clip_counts

REPLIES_COUNTED = 30
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

    A claim that was taken anew after a pause counts from then on. Two statements.
    """
    last = list(
        Claim.objects.filter(coach=coach, submission__answered_at__gt=F("taken_at"))
        .order_by("-taken_at")
        .values_list("submission", "taken_at", "submission__answered_at")[:REPLIES_COUNTED]
    )
    clips = clip_counts([pk for pk, _, _ in last])
    taken = [
        (answer - start).total_seconds() / 60 / max(clips.get(pk, 0), 1)
        for pk, start, answer in last
        if answer
    ]
    if len(taken) < REPLIES_NEEDED:
        return Pace(per_clip=settings.REVIEW_MINUTES_PER_CLIP, replies=0)
    return Pace(per_clip=median(taken), replies=len(taken))
