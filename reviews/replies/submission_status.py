"""How a submission stands, as a word for programs and a sentence for people."""

from django.utils import timezone
from django.utils.formats import date_format

from reviews.desk.models import Claim
from reviews.intake.models import Clip, ClipState, State, Submission

CLAIMED = "claimed"  # waiting, and somebody holds the live claim


def status_of(state: str, claim: Claim | None) -> str:
    """One of draft, waiting, claimed, waiting-on-athlete, answered, closed."""
    return CLAIMED if state == State.WAITING and claim is not None else state


def sentence_of(submission: Submission, claim: Claim | None) -> str:
    """What the athlete may expect, without a promise nobody made."""
    status = status_of(submission.state, claim)
    if status == CLAIMED and claim is not None:
        return f"{claim.coach.first_name} is looking at it now."
    if status == State.WAITING and submission.sent_at:
        return f"In the queue since {date_format(timezone.localtime(submission.sent_at), 'D j M')}."
    return {
        State.DRAFT: "Not sent yet.",
        State.WAITING_ON_ATHLETE: "Waiting on you: your coach asked for another angle.",
        State.ANSWERED: "Answered.",
        State.CLOSED: "Closed.",
    }[State(status)]


def clip_sentence(clip: Clip) -> str:
    """What is going on with a clip that does not play, and what to do; empty when it plays."""
    if clip.state == ClipState.FAILED:
        return clip.reason
    if clip.state == ClipState.PROCESSING:
        return "Being made ready to play. You can close this page; it goes on by itself."
    if clip.state == ClipState.RECEIVING:
        return "Not all of it has arrived. Open the page you sent it from and it goes on."
    return ""
