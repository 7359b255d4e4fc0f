"""What is to be lifted: programmes, their sessions and prescriptions."""

from programming.plans.models.plates import PlateSet
from programming.plans.models.prescription import Prescription, TargetKind
from programming.plans.models.programme import PlannedSession, Programme

__all__ = ["PlannedSession", "PlateSet", "Prescription", "Programme", "TargetKind"]
