"""What the load page can show: each measure with its unit, its formula and where it comes from."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Measure:
    """``figure`` is a column of `DaySummary`; ``known`` of ``of`` says how much of it is known."""

    key: str
    label: str
    figure: str
    known: str
    of: str
    counts: str  # what ``of`` counts
    unit: str
    formula: str
    source: str
    by_family: bool = True
    places: int = 0  # decimals worth showing


MEASURES = [
    Measure(
        "effort", "Session load", "session_load", "sessions_rated", "sessions", "sessions", "AU",
        "Session RPE (0 to 10) × minutes, summed over the day. A rest day is 0. One session "
        "without RPE or minutes makes its day a gap.",
        "Foster C, et al. J Strength Cond Res 2001;15(1):109–115.",
        by_family=False,
    ),
    Measure(
        "volume", "Volume load", "volume_load", "sets_loaded", "sets", "sets", "kg",
        "Sum of reps × load over the sets with a load.",
        "BMJ Mil Health 2022;168(4):314–319, Table 1.",
    ),
    Measure(
        "relative", "Relative volume", "relative_volume_load", "sets_with_max", "sets", "sets",
        "maxes",
        "Sum of reps × load / best max of that day: 3 × 8 at 65% is 15.6.",
        "Variants in Scott BR, et al. Sports Med 2016;46(5):687–698; this one from memory.",
        places=1,
    ),
    Measure(
        "reps", "Reps", "reps", "sets", "sets", "sets", "reps", "Reps made, over all sets.",
        "A count.",
    ),
    Measure(
        "hard", "Hard sets", "hard_sets", "sets_with_effort", "sets", "sets", "sets",
        "Sets with at most 4 reps in reserve, that is RPE 6.5 or more. Authors differ in the "
        "limit; this one is stated, not proved.",
        "Scale: Zourdos MC, et al. J Strength Cond Res 2016;30(1):267–275.",
    ),
]  # fmt: skip
BY_KEY = {measure.key: measure for measure in MEASURES}
