"""Django looks for models here; each wing keeps its own."""

from programming.logs.models import (
    BodyWeight,
    DaySummary,
    DirtyDay,
    ImportDraft,
    LoggedSession,
    LoggedSet,
    MaxRecord,
    Removed,
    SetVerdict,
    SummaryRepair,
)
from programming.movements.models import Movement
from programming.plans.models import (
    CalendarFeed,
    PlannedSession,
    PlateSet,
    Prescription,
    Programme,
    Progression,
    StructureChange,
)
from programming.plans.models.correction import Change, Correction

__all__ = [
    "BodyWeight",
    "CalendarFeed",
    "Change",
    "Correction",
    "DaySummary",
    "DirtyDay",
    "ImportDraft",
    "LoggedSession",
    "LoggedSet",
    "MaxRecord",
    "Movement",
    "PlannedSession",
    "PlateSet",
    "Prescription",
    "Programme",
    "Progression",
    "Removed",
    "SetVerdict",
    "StructureChange",
    "SummaryRepair",
]
