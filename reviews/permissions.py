"""Who may see and do what with submissions. Pages, media and API ask here and nowhere else."""

from django.db.models import QuerySet

from athletes.models import User
from reviews.intake.models import State
from reviews.models import Clip, Fault, Submission, Upload


def submissions_visible_to(user: User) -> QuerySet[Submission]:
    """An athlete sees their own; a coach those of the club that were sent."""
    if user.is_coach:
        return Submission.objects.filter(club_id=user.club_id).exclude(state=State.DRAFT)
    return Submission.objects.filter(athlete=user)


def submissions_reviewable_by(user: User) -> QuerySet[Submission]:
    """What a coach may claim, note and answer."""
    return submissions_visible_to(user) if user.is_coach else Submission.objects.none()


def drafts_of(user: User) -> QuerySet[Submission]:
    """What an athlete may still change and send."""
    return Submission.objects.filter(athlete=user, state=State.DRAFT)


def may_submit(user: User) -> bool:
    """Athletes ask; a coach answers."""
    return user.is_athlete


def clips_changeable_by(user: User) -> QuerySet[Clip]:
    """What was on the bar can be corrected until the question is sent."""
    return Clip.objects.filter(submission__in=drafts_of(user))


def clips_sendable_by(user: User) -> QuerySet[Clip]:
    """Clips whose video may still arrive: a question can be sent before its last clip is in."""
    unanswered = [State.DRAFT, State.WAITING, State.WAITING_ON_ATHLETE]
    return Clip.objects.filter(submission__athlete=user, submission__state__in=unanswered)


def clips_visible_to(user: User) -> QuerySet[Clip]:
    return Clip.objects.filter(submission__in=submissions_visible_to(user))


def clips_reviewable_by(user: User) -> QuerySet[Clip]:
    return Clip.objects.filter(submission__in=submissions_reviewable_by(user))


def uploads_of(user: User) -> QuerySet[Upload]:
    """An upload belongs to one owner, for as long as they may sign in."""
    return Upload.objects.filter(owner=user)


def library_of(user: User) -> QuerySet[Fault]:
    """A club's library is the coaches' tool; athletes read its words in replies."""
    if user.is_coach:
        return Fault.objects.filter(club_id=user.club_id)
    return Fault.objects.none()
