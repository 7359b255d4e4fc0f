"""On which day a reply told an athlete of a fault: what the load's time axis shows."""

from dataclasses import dataclass
from datetime import date, datetime, time

from athletes.local_time import day_at, zone_of
from athletes.models import User
from reviews.replies.models import ReplyVersion


@dataclass(frozen=True)
class ToldFault:
    """``day`` is the athlete's local date of the first version within the window that told it."""

    day: date
    name: str
    movement: str
    submission: str


def told_since(athlete: User, first: date) -> list[ToldFault]:
    """Focus points of replies sent from ``first`` on, oldest first. One statement."""
    start = datetime.combine(first, time.min, zone_of(athlete))
    versions = (
        ReplyVersion.objects.filter(reply__submission__athlete=athlete, sent_at__gte=start)
        .order_by("sent_at")
        .select_related("reply")
    )
    found: dict[str, ToldFault] = {}  # by note: a later version tells the same one again
    for version in versions:
        clips = {clip["id"]: clip["movement"] for clip in version.content["clips"]}
        for point in version.content["points"]:
            if point["fault"]:
                one = ToldFault(
                    day=day_at(athlete, version.sent_at),
                    name=point["fault"],
                    movement=clips.get(point["clip"], ""),
                    submission=str(version.reply.submission_id),
                )
                found.setdefault(point["note"], one)
    return list(found.values())
