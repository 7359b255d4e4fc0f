"""What was lifted, how it was judged, and what follows from it."""

from programming.logs.models.brought import ImportDraft
from programming.logs.models.day import BodyWeight, DaySummary, SummaryRepair, TouchedDay
from programming.logs.models.lifted import LoggedSession, LoggedSet, Removed
from programming.logs.models.maxes import MaxKind, MaxRecord, MaxSource
from programming.logs.models.verdict import SetVerdict

__all__ = [
    "BodyWeight",
    "DaySummary",
    "ImportDraft",
    "LoggedSession",
    "LoggedSet",
    "MaxKind",
    "MaxRecord",
    "MaxSource",
    "Removed",
    "SetVerdict",
    "SummaryRepair",
    "TouchedDay",
]
