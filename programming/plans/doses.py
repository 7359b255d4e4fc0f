"""From a row of the database to the dose that the notation writes."""

from programming.plans.models import Prescription
from programming.plans.notation import Dose


def dose_of(line: Prescription) -> Dose:
    return Dose(
        sets=line.sets,
        reps=line.reps,
        kind=line.target_kind,
        target=line.target,
        unit=line.unit,
        cap_percent=line.cap_percent,
        tempo=line.tempo,
        rest_seconds=line.rest_seconds,
    )
