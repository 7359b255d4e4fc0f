"""What a figure is, and how two things are timed fairly."""

import statistics
import time
from collections.abc import Callable
from typing import TypedDict


class Row(TypedDict):
    """One figure. ``value`` is the ratio (or the unit named), ``against`` what it is held to."""

    name: str
    value: float
    unit: str
    against: str
    runs: int


def paired_ratio(ours: Callable[[], object], theirs: Callable[[], object], runs: int) -> float:
    """Median of ours / theirs over ``runs`` pairs, alternating so that drift hits both alike."""
    return statistics.median(seconds(ours) / seconds(theirs) for _ in range(runs))


def seconds(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start
