"""What was lifted, how it was judged, and what follows from it."""

from programming.logs.models.day_summary import BodyWeight, DaySummary, DirtyDay, SummaryRepair
from programming.logs.models.import_draft import ImportDraft
from programming.logs.models.logged_session import LoggedSession, LoggedSet, Removed
from programming.logs.models.max_record import MaxKind, MaxRecord, MaxSource
from programming.logs.models.set_verdict import SetVerdict

__all__ = [
    "BodyWeight",
    "DaySummary",
    "DirtyDay",
    "ImportDraft",
    "LoggedSession",
    "LoggedSet",
    "MaxKind",
    "MaxRecord",
    "MaxSource",
    "Removed",
    "SetVerdict",
    "SummaryRepair",
]
