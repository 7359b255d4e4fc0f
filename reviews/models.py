"""Django looks for models here; each wing keeps its own."""

from reviews.desk.models import Claim
from reviews.intake.models import AngleRequest, Clip, MediaJob, RoundUpConsent, Submission, Upload
from reviews.library.models import Cue, Drill, Fault
from reviews.replies.models import (
    CorrectionReason,
    Message,
    Note,
    Outcome,
    ProgrammeNotice,
    RepCall,
    Reply,
    ReplyVersion,
)

__all__ = [
    "AngleRequest",
    "Claim",
    "Clip",
    "CorrectionReason",
    "Cue",
    "Drill",
    "Fault",
    "MediaJob",
    "Message",
    "Note",
    "Outcome",
    "ProgrammeNotice",
    "RepCall",
    "Reply",
    "ReplyVersion",
    "RoundUpConsent",
    "Submission",
    "Upload",
]
