"""Who may see and do what with submissions. Pages, media and API ask here and nowhere else."""

from django.db.models import Q, QuerySet

from athletes.models import User
from reviews.intake.models import State
from reviews.models import Clip, Fault, Note, Submission, Upload


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


def submissions_fillable_by(user: User) -> QuerySet[Submission]:
    """What an athlete may add a clip to: a draft, or one where another angle was asked for."""
    return Submission.objects.filter(
        athlete=user, state__in=[State.DRAFT, State.WAITING_ON_ATHLETE]
    )


def may_submit(user: User) -> bool:
    """Athletes ask; a coach answers."""
    return user.is_athlete


def clips_changeable_by(user: User) -> QuerySet[Clip]:
    """What was on the bar can be corrected until the question is sent, and for a clip that a coach
    asked for until the answer."""
    later = Q(angle__isnull=False, submission__state__in=[State.WAITING_ON_ATHLETE, State.WAITING])
    return Clip.objects.filter(Q(submission__state=State.DRAFT) | later, submission__athlete=user)


def clips_removable_by(user: User) -> QuerySet[Clip]:
    """What no coach has seen yet."""
    asked = Q(angle__settled_at=None, submission__state=State.WAITING_ON_ATHLETE)
    unseen = Q(submission__state=State.DRAFT) | (asked & Q(angle__isnull=False))
    return Clip.objects.filter(unseen, submission__athlete=user)


def clips_sendable_by(user: User) -> QuerySet[Clip]:
    """Clips whose video may still arrive: a question can be sent before its last clip is in."""
    unanswered = [State.DRAFT, State.WAITING, State.WAITING_ON_ATHLETE]
    return Clip.objects.filter(submission__athlete=user, submission__state__in=unanswered)


def clips_visible_to(user: User) -> QuerySet[Clip]:
    return Clip.objects.filter(submission__in=submissions_visible_to(user))


def clips_reviewable_by(user: User) -> QuerySet[Clip]:
    return Clip.objects.filter(submission__in=submissions_reviewable_by(user))


def notes_reviewable_by(user: User) -> QuerySet[Note]:
    """What a coach may make a change of the programme from."""
    return Note.objects.filter(clip__in=clips_reviewable_by(user))


def uploads_of(user: User) -> QuerySet[Upload]:
    """An upload belongs to one owner, for as long as they may sign in."""
    return Upload.objects.filter(owner=user)


def library_of(user: User) -> QuerySet[Fault]:
    """A club's library is the coaches' tool; athletes read its words in replies."""
    if user.is_coach:
        return Fault.objects.filter(club_id=user.club_id)
    return Fault.objects.none()
