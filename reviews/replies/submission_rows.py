"""A submission as the athlete's own pages list it."""

from dataclasses import dataclass
from datetime import date
from typing import Any

from reviews.desk.models import Claim
from reviews.intake.models import AngleRequest, Clip, State, Submission
from reviews.replies.models import ReplyVersion
from reviews.replies.submission_status import clip_sentence, sentence_of


@dataclass(frozen=True)
class SubmissionRow:
    """Wraps a submission of `selectors.reviews.read_by`; asks the database for nothing more."""

    submission: Submission

    @property
    def lift(self) -> Clip | None:
        """The clip that names it: the one said to show the fault, else the first."""
        clips = list(self.submission.clips.all())
        return next((clip for clip in clips if clip.shows_fault), clips[0] if clips else None)

    @property
    def asked(self) -> AngleRequest | None:
        """Another angle that a coach asked for and that has not come."""
        open_: list[AngleRequest] = getattr(self.submission, "asked_angles", [])
        return next(iter(open_), None)

    @property
    def version(self) -> ReplyVersion | None:
        """What was sent last."""
        reply = getattr(self.submission, "reply", None)
        versions = list(reply.versions.all()) if reply else []
        return versions[0] if versions else None

    @property
    def unread(self) -> bool:
        return self.version is not None and self.version.understood_at is None

    @property
    def wrote_back(self) -> int:
        """Messages of a coach that the athlete has not opened."""
        talk = self.submission.messages.all()
        athlete = self.submission.athlete_id
        return sum(message.author_id != athlete and not message.read_at for message in talk)

    @property
    def first_point(self) -> dict[str, Any] | None:
        points = self.version.content["points"] if self.version else []
        return points[0] if points else None

    @property
    def sentence(self) -> str:
        claim: Claim | None = getattr(self.submission, "claim", None)
        return sentence_of(self.submission, claim if claim and claim.is_live else None)

    @property
    def troubles(self) -> list[tuple[Clip, str]]:
        """Clips that do not play, each with what is going on."""
        sentences = [(clip, clip_sentence(clip)) for clip in self.submission.clips.all()]
        return [(clip, sentence) for clip, sentence in sentences if sentence]

    @property
    def film_by(self) -> date | None:
        by = self.version.content["film_again"]["by"] if self.version else None
        return date.fromisoformat(by) if by else None

    @property
    def film_note(self) -> str:
        return str(self.version.content["film_again"]["note"]) if self.version else ""

    @property
    def to_film(self) -> bool:
        """A filming was asked for, and no check-back has been sent since."""
        sent = any(check.sent_at for check in self.submission.check_backs.all())
        return bool(self.film_by or self.film_note) and not sent

    @property
    def is_open(self) -> bool:
        """Sent, and not answered yet."""
        return self.submission.state in {State.WAITING, State.WAITING_ON_ATHLETE}
