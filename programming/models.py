"""Django looks for models here; each wing keeps its own."""

from programming.corrections.models import Change, Correction
from programming.logs.models import (
    BodyWeight,
    DaySummary,
    LoggedSession,
    LoggedSet,
    MaxRecord,
    SetVerdict,
)
from programming.movements.models import Movement
from programming.plans.models import PlannedSession, PlateSet, Prescription, Programme

__all__ = [
    "BodyWeight",
    "Change",
    "Correction",
    "DaySummary",
    "LoggedSession",
    "LoggedSet",
    "MaxRecord",
    "Movement",
    "PlannedSession",
    "PlateSet",
    "Prescription",
    "Programme",
    "SetVerdict",
]
