"""The cue to lift by: from the newest reply about a movement."""

from dataclasses import dataclass
from uuid import UUID

from athletes.models import User
from programming.movements.models import Movement
from reviews.intake.models import Clip
from reviews.replies.models import ReplyVersion

LATEST = 5  # replies to look through: an older one's cue is no longer what is worked on


@dataclass(frozen=True)
class LastCue:
    words: str
    coach: str
    version: ReplyVersion
    submission: UUID


def last_cue(*, athlete: User, movement: Movement) -> LastCue | None:
    """The first-ranked focus point with a cue, of this movement or of the one it was rebuilt from.
    Two statements."""
    about = {movement.pk, movement.parent_id}
    clips = Clip.objects.filter(submission__athlete=athlete, movement__in=about - {None})
    versions = ReplyVersion.objects.filter(reply__submission__clips__in=clips).distinct()
    filmed = {str(pk) for pk in clips.values_list("pk", flat=True)}
    for version in versions.select_related("reply").order_by("-sent_at")[:LATEST]:
        for point in version.content["points"]:
            if point["clip"] in filmed and point["cue"]:
                coach = version.content["coach"]
                return LastCue(point["cue"], coach, version, version.reply.submission_id)
    return None
