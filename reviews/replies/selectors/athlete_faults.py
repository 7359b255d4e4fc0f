"""An athlete's faults as replies told of them: still open, or gone at a check-back, and on which
day each was told."""

from dataclasses import dataclass
from datetime import date, datetime, time

from athletes.local_time import day_at, zone_of
from athletes.models import User
from programming.plans.models.correction import Correction
from reviews.replies.models import CorrectionReason, Outcome, ReplyVersion, Result

REPLIES = 100  # of the newest answers: more than a year of most lifters


@dataclass
class OpenFault:
    """One fault over the replies that named it. ``result``: what was last said of it at a
    check-back, by value, or "" before one; ``submission`` is the last that named it."""

    name: str
    movement: str
    times: int
    last: date
    submission: str
    result: str = ""
    corrections: tuple[str, ...] = ()

    @property
    def gone(self) -> bool:
        return self.result == Result.GONE

    @property
    def result_words(self) -> str:
        return Result(self.result).label.lower() if self.result else ""


def athlete_faults(athlete: User) -> list[OpenFault]:
    """Focus points of sent replies, by fault and movement; open ones first, the latest first.
    Three statements."""
    versions = (
        ReplyVersion.objects.filter(reply__submission__athlete=athlete)
        .order_by("-sent_at")
        .select_related("reply")[:REPLIES]
    )
    found: dict[tuple[str, str], OpenFault] = {}
    counted: set[tuple[str, object]] = set()  # a later version of the same reply tells it again
    where: dict[str, tuple[str, str]] = {}
    for version in versions:
        clips = {clip["id"]: clip["movement"] for clip in version.content["clips"]}
        for point in version.content["points"]:
            key = (point["fault"], clips.get(point["clip"], ""))
            once = (point["note"], version.reply_id)
            if not key[0] or once in counted:
                continue
            counted.add(once)
            where[point["note"]] = key
            day = day_at(athlete, version.sent_at)
            entry = found.setdefault(key, OpenFault(*key, 0, day, str(version.reply.submission_id)))
            entry.times += 1
    _add_results(athlete, found, where)
    _add_corrections(athlete, found, where)
    return sorted(found.values(), key=lambda one: (one.gone, -one.last.toordinal(), one.name))


Found = dict[tuple[str, str], OpenFault]
Where = dict[str, tuple[str, str]]


def _add_results(athlete: User, found: Found, where: Where) -> None:
    newest = Outcome.objects.newest().filter(check_back__athlete=athlete)
    for note, result, at in newest.values_list("note", "result", "confirmed_at"):
        key = where.get(str(note))
        # What came back in a later reply is open again, whatever was said before.
        if key and day_at(athlete, at) >= found[key].last:
            found[key].result = result


def _add_corrections(athlete: User, found: Found, where: Where) -> None:
    running = Correction.objects.running().filter(athlete=athlete)
    reasons = CorrectionReason.objects.filter(correction__in=running)
    for note, said in reasons.values_list("note", "correction__said"):
        key = where.get(str(note))
        if key:
            found[key].corrections += (said,)


@dataclass(frozen=True)
class SentFault:
    """``day`` is the athlete's local date of the first version within the window that told it."""

    day: date
    name: str
    movement: str
    submission: str


def faults_sent_since(athlete: User, first: date) -> list[SentFault]:
    """Focus points of replies sent from ``first`` on, oldest first. One statement."""
    start = datetime.combine(first, time.min, zone_of(athlete))
    versions = (
        ReplyVersion.objects.filter(reply__submission__athlete=athlete, sent_at__gte=start)
        .order_by("sent_at")
        .select_related("reply")
    )
    found: dict[str, SentFault] = {}  # by note: a later version tells the same one again
    for version in versions:
        clips = {clip["id"]: clip["movement"] for clip in version.content["clips"]}
        for point in version.content["points"]:
            if point["fault"]:
                one = SentFault(
                    day=day_at(athlete, version.sent_at),
                    name=point["fault"],
                    movement=clips.get(point["clip"], ""),
                    submission=str(version.reply.submission_id),
                )
                found.setdefault(point["note"], one)
    return list(found.values())
