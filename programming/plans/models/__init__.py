"""What is to be lifted: programmes, their sessions and prescriptions."""

from programming.plans.models.calendar_feed import CalendarFeed
from programming.plans.models.correction import Change, Correction, Kind, Place
from programming.plans.models.plate_set import PlateSet
from programming.plans.models.prescription import Prescription, TargetKind
from programming.plans.models.programme import PlannedSession, Programme
from programming.plans.models.progression import Progression, Step
from programming.plans.models.structure_change import StructureChange

__all__ = [
    "CalendarFeed",
    "Change",
    "Correction",
    "Kind",
    "Place",
    "PlannedSession",
    "PlateSet",
    "Prescription",
    "Programme",
    "Progression",
    "Step",
    "StructureChange",
    "TargetKind",
]
