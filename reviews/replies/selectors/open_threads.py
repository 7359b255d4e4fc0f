"""What athletes wrote below their replies and nobody has answered."""

from dataclasses import dataclass

from athletes.models import User
from reviews.intake.models import Submission
from reviews.permissions import submissions_reviewable_by
from reviews.replies.models import Message

MOST = 100  # messages looked at; the oldest come first, so the rest moves up as they are answered


@dataclass(frozen=True)
class OpenThread:
    """The open messages below one submission, the oldest first."""

    submission: Submission
    messages: list[Message]

    @property
    def first(self) -> Message:
        return self.messages[0]

    @property
    def more(self) -> int:
        return len(self.messages) - 1


def open_threads(coach: User) -> list[OpenThread]:
    """Of the coach's club, the longest wait first. One statement."""
    mine = submissions_reviewable_by(coach)
    found = Message.objects.filter(open=True, submission__in=mine).order_by("sent_at", "pk")
    threads: dict[object, OpenThread] = {}
    for message in found.select_related("submission__athlete")[:MOST]:
        thread = threads.setdefault(message.submission_id, OpenThread(message.submission, []))
        thread.messages.append(message)
    return list(threads.values())
