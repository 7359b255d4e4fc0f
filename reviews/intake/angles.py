"""Another angle: asked for, brought, or taken back. Each public function is one transaction.

The state of the submission and the open request change together, here and nowhere else.
"""

from datetime import datetime
from uuid import UUID

from django.db import transaction
from django.utils.timezone import now

from athletes.models import User
from coachdesk.common.errors import Conflict
from reviews.intake.models import AngleOutcome, AngleRequest, Clip, State, Submission, View

SAY_WHY = "Say in a sentence what you want to see."


@transaction.atomic
def open_request(*, submission: Submission, coach: User, view: View, why: str) -> AngleRequest:
    """The submission waits on the athlete from now on. One transaction.

    Raises:
        Conflict: it does not wait for a coach, or no reason is given.
    """
    why = " ".join(why.split())
    if not why:
        raise Conflict(SAY_WHY)
    waits = Submission.objects.filter(pk=submission.pk, state=State.WAITING)
    if not waits.update(state=State.WAITING_ON_ATHLETE, back_at=None):
        raise Conflict("This does not wait for an answer just now, so nothing was asked.")
    return AngleRequest.objects.create(submission=submission, asked_by=coach, view=view, why=why)


@transaction.atomic
def take_back(*, submission: Submission) -> bool:
    """It waits for a coach again, as it was; clips that came stay. False when nothing was open."""
    open_ = AngleRequest.objects.filter(submission=submission, settled_at=None).first()
    return open_ is not None and _settle(open_.pk, submission.pk, AngleOutcome.TAKEN_BACK, now())


@transaction.atomic
def came(*, clip: Clip) -> bool:
    """A clip that was asked for plays: back to the queue. False when nobody waits for it.

    Two clips for one request bring it back once, and a clip that comes late for a request which
    was settled brings nothing back.
    """
    if clip.angle_id is None:
        return False
    return _settle(clip.angle_id, clip.submission_id, AngleOutcome.CAME, now())


def _settle(request: int, submission: UUID, outcome: AngleOutcome, at: datetime) -> bool:
    open_ = AngleRequest.objects.filter(pk=request, settled_at=None)
    if not open_.update(settled_at=at, outcome=outcome):
        return False
    waits = Submission.objects.filter(pk=submission, state=State.WAITING_ON_ATHLETE)
    waits.update(state=State.WAITING, back_at=at if outcome == AngleOutcome.CAME else None)
    return True


def open_angle(submission: Submission) -> AngleRequest | None:
    """What the athlete is asked for now."""
    asked = AngleRequest.objects.filter(submission=submission, settled_at=None)
    return asked.select_related("asked_by").first()
