"""One of everything that a route can be asked for, all of one athlete and one coach."""

from dataclasses import dataclass
from uuid import UUID

from allauth.mfa.models import Authenticator

from athletes.models import Invitation, Role, User
from athletes.services import invitations
from programming.plans.models.correction import Correction, Kind
from reviews.desk.claiming import claim
from reviews.intake import uploads
from reviews.intake.angles import open_request
from reviews.intake.models import Clip, ClipState, Submission, Upload, View
from reviews.library.models import Cue, Fault
from reviews.models import CorrectionReason, Note
from reviews.replies.schemas.note import kept_note
from reviews.replies.services.publish_reply import publish_reply
from reviews.replies.services.save_reply import save_reply
from tests.athletes.passkeys import a_passkey
from tests.reviews.replies.rows import a_clip, a_note, a_submission, an_answer


@dataclass(frozen=True)
class World:
    athlete: User
    coach: User
    draft: Submission
    draft_clip: Clip  # its video has not come yet
    filmed_clip: Clip  # playable, but the question was not sent
    waiting: Submission
    waiting_clip: Clip
    failed_clip: Clip
    claimed: Submission  # by `coach`
    claimed_clip: Clip
    note: Note
    correction: Correction  # made from `note`
    answered: Submission
    back: Submission  # a check-back, claimed by `coach`
    point: UUID  # of the reply that it follows
    asked: Submission  # another angle was asked for
    upload: Upload
    invitation: Invitation
    token: str
    fault: Fault
    cue: Cue
    passkey: Authenticator


def build_world(athlete: User, coach: User) -> World:
    draft = a_submission(athlete, state="draft", sent_at=None)
    draft_clip = a_clip(draft, state=ClipState.RECEIVING, sha256="")
    waiting = a_submission(athlete)
    claimed = a_submission(athlete)
    claimed_clip = a_clip(claimed)
    note = a_note(coach, claimed_clip)
    save_reply(coach=coach, submission_id=claimed.pk, fields={"opening": "Three strong reps."})
    answered = a_submission(athlete)
    a_clip(answered)
    an_answer(coach, answered)
    asked = a_submission(athlete)
    a_clip(asked)
    open_request(submission=asked, coach=coach, view=View.FRONT, why="I cannot see your knees.")
    back, point = a_check_back(athlete, coach)
    invitation, token = invitations.invite(
        by=coach, email=f"new-{coach.pk}@example.org", role=Role.ATHLETE, coach=coach
    )
    fault = Fault.objects.filter(club=coach.club, cues__isnull=False).first()
    assert fault is not None
    return World(
        athlete=athlete,
        coach=coach,
        draft=draft,
        draft_clip=draft_clip,
        filmed_clip=a_clip(draft),
        waiting=waiting,
        waiting_clip=a_clip(waiting),
        failed_clip=a_clip(
            waiting,
            state=ClipState.FAILED,
            reason="The file stops at 60%.",
            original="failed.mp4",
        ),
        claimed=claimed,
        claimed_clip=claimed_clip,
        note=note,
        correction=a_correction(note, coach),
        answered=answered,
        back=back,
        point=point,
        asked=asked,
        upload=uploads.begin(
            owner=athlete, clip_id=draft_clip.pk, length=10, filename="squat.mp4", metadata=""
        ),
        invitation=invitation,
        token=token,
        fault=fault,
        cue=fault.cues.all()[0],
        passkey=a_passkey(athlete),
    )


def a_check_back(athlete: User, coach: User) -> tuple[Submission, UUID]:
    earlier = a_submission(athlete)
    point = a_note(coach, a_clip(earlier), text="Legs first.", rank=1)
    publish_reply(coach=coach, submission_id=earlier.pk)
    back = a_submission(athlete, check_back_of=earlier)
    claim(submission=back, coach=coach)
    return back, point.pk


def a_correction(note: Note, coach: User) -> Correction:
    """One that changed nothing any more to come."""
    submission = note.clip.submission
    made = Correction.objects.create(
        athlete=submission.athlete, kind=Kind.HOLD, said="Squat left out", made_by=coach
    )
    CorrectionReason.objects.create(
        correction=made, submission=submission, note=note, seen=kept_note(note)
    )
    return made
