"""Whether a reply may go out, and the sentence that stands beside the button."""

from dataclasses import dataclass
from datetime import timedelta
from textwrap import shorten

from django.conf import settings

from athletes.local_time import long_date, today_of
from athletes.models import User
from programming.corrections.preview import coming
from programming.movements.families import Family
from reviews.desk.claiming import WITH_ATHLETE, ClaimedByOther
from reviews.desk.models import Claim
from reviews.intake.camera_views import hidden_decider
from reviews.intake.models import Clip, ClipState, State, Submission, View
from reviews.library.models import Sight
from reviews.replies.models import Call, Note, RepCall, Reply, Result
from reviews.replies.selectors.follow_up import FollowUp
from reviews.replies.stop_advice import question_about, stops_in

AHEAD = timedelta(weeks=3)  # of the programme: what a reply is likely to speak of


@dataclass(frozen=True, kw_only=True)
class Review:
    """Everything that decides: read once, by `selectors.reviews.review_of`."""

    reader: User
    submission: Submission
    claim: Claim | None
    reply: Reply
    clips: list[Clip]
    notes: list[Note]
    calls: list[RepCall]
    follow_up: FollowUp | None

    @property
    def is_held(self) -> bool:
        """The reader holds the live claim."""
        return self.claim is not None and self.claim.coach_id == self.reader.pk

    @property
    def athlete(self) -> User:
        return self.submission.athlete

    @property
    def points(self) -> list[Note]:
        """The focus points in their order."""
        ranked = [note for note in self.notes if note.rank is not None]
        return sorted(ranked, key=lambda note: (note.rank or 0, note.made_at))

    @property
    def rest(self) -> list[Note]:
        """Seen, and left for now."""
        return [note for note in self.notes if note.rank is None]


@dataclass(frozen=True, kw_only=True)
class MayPublish:
    """`why` is what stands in the way, or, when nothing does, what is worth knowing."""

    ok: bool
    why: str = ""


def may_publish(review: Review) -> MayPublish:
    block = _claim(review) or _words(review) or _film_again(review) or _outcomes(review)
    return MayPublish(ok=False, why=block) if block else MayPublish(ok=True, why=_worth(review))


def _claim(review: Review) -> str:
    if review.submission.state == State.CLOSED:
        return "This one is closed."
    if review.submission.state == State.WAITING_ON_ATHLETE:
        return WITH_ATHLETE
    if review.claim is None:
        return "Claim this first."
    if review.is_held:
        return ""
    return str(ClaimedByOther(review.claim))


def _words(review: Review) -> str:
    if not review.points and not review.reply.opening.strip():
        return "Put a note into the reply, or write an opening."
    for number, point in enumerate(review.points, start=1):
        if not (point.fault_name or point.cue_text or point.text.strip()):
            return f"Point {number} says nothing yet: give it a fault, a cue or words."
    return ""


def _film_again(review: Review) -> str:
    by = review.reply.film_again_by
    if by is not None and by < today_of(review.athlete):
        return f"{long_date(by)} has passed. Pick a later day to film again by."
    return ""


def _unseen(review: Review) -> str:
    """A call on what the clip's view cannot show. The coach decides."""
    clips = {clip.pk: clip for clip in review.clips}
    for call in review.calls:
        clip = clips[call.clip_id]
        for fault in call.faults.all():
            if fault.sight_from(clip.view) == Sight.NO:
                return f"Rep {call.rep} is called on “{fault.name}”, which this view cannot show."
        family = clip.movement.family if clip.movement else Family.OTHER
        hidden = hidden_decider(family, clip.view)
        if call.call == Call.STANDARD and hidden:
            where = View(clip.view).phrase
            return (
                f"Rep {call.rep} is to standard; {where} the clip does not show {hidden}. "
                f"Is it “{Call.CANNOT_TELL.label.lower()}”?"
            )
    return ""


def _outcomes(review: Review) -> str:
    """A check-back says of every earlier point what became of it, so that what works is counted."""
    points = review.follow_up.open_points if review.follow_up else []
    if not points:
        return ""
    which, it = f"{len(points)} earlier points", "one"
    if len(points) == 1:
        which, it = f"“{shorten(points[0].title.rstrip('.'), 60, placeholder=' …')}”", "it"
    way = f"Where the clip does not show {it}, choose “{Result.CANNOT_TELL.label}”."
    return f"Say first what became of {which}. {way}"


def _stopped(review: Review) -> str:
    """The programme is read only where the words say that a lift is to stop: two statements."""
    texts = [review.reply.opening]
    texts += [text for note in review.points for text in (note.text, note.cue_text)]
    stops = stops_in(texts)
    if not stops:
        return ""
    today = today_of(review.athlete)
    return question_about(stops, coming(review.athlete, today=today, until=today + AHEAD))


def _worth(review: Review) -> str:
    """Hints: the first that holds. None of them stops anybody."""
    if question := _stopped(review):
        return question
    for clip in review.clips:
        if clip.state in {ClipState.RECEIVING, ClipState.PROCESSING}:
            return f"Clip {clip.position} is still being made ready; this reply goes without it."
    for call in review.calls:
        if call.call == Call.NOT_STANDARD and not call.faults.all():
            return f"Rep {call.rep} is not to standard; no fault says why."
    if unseen := _unseen(review):
        return unseen
    if len(review.points) > settings.FOCUS_POINTS_SUGGESTED:
        most = settings.FOCUS_POINTS_SUGGESTED
        return f"{len(review.points)} points. More than {most} are seldom remembered at the bar."
    return ""
