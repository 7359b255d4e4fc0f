"""Submissions, clips, uploads and the work done on them."""

from reviews.intake.models.angle import AngleOutcome, AngleRequest
from reviews.intake.models.clip import Clip, ClipState, View
from reviews.intake.models.job import JobState, MediaJob
from reviews.intake.models.submission import (
    Equipment,
    Goal,
    RoundUpConsent,
    State,
    Submission,
    Urgency,
)
from reviews.intake.models.upload import Upload

__all__ = [
    "AngleOutcome",
    "AngleRequest",
    "Clip",
    "ClipState",
    "Equipment",
    "Goal",
    "JobState",
    "MediaJob",
    "RoundUpConsent",
    "State",
    "Submission",
    "Upload",
    "Urgency",
    "View",
]
