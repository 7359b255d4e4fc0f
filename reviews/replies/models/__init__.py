"""Notes at frames, calls on reps, the reply they become, and the talk below it."""

from reviews.replies.models.message import Message
from reviews.replies.models.note import Note
from reviews.replies.models.notice import NoticeEvent, ProgrammeNotice
from reviews.replies.models.outcome import Outcome, Result
from reviews.replies.models.reason import CorrectionReason
from reviews.replies.models.rep_call import Call, RepCall
from reviews.replies.models.reply import Frozen, Reply, ReplyVersion

__all__ = [
    "Call",
    "CorrectionReason",
    "Frozen",
    "Message",
    "Note",
    "NoticeEvent",
    "Outcome",
    "ProgrammeNotice",
    "RepCall",
    "Reply",
    "ReplyVersion",
    "Result",
]
