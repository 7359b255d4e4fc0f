"""What the trade says before a coach chooses a correction. Common practice, no source."""

from collections.abc import Iterable
from decimal import Decimal

HEAVY_ONLY = (
    "It shows on the heavy sets only, from {load} on: answer it with load, and strength in the new "
    "position, before more cues."
)
TOTAL = "For a competition total the more efficient variant is preferred."
MUSCLE = "For muscle the choice of variant is free."


def heavy_only(sets: Iterable[tuple[Decimal, bool]]) -> Decimal | None:
    """The lightest load (kg) the fault shows at, where every set without it was lighter.

    ``sets``: (load in kg, whether the fault shows), only sets that could be told. None without a
    set of either kind: what was never seen light cannot be called heavy only.
    """
    told = list(sets)
    showing = [load for load, shows in told if shows]
    clean = [load for load, shows in told if not shows]
    if not showing or not clean or min(showing) <= max(clean):
        return None
    return min(showing)


def about_goal(goal: str) -> str:
    """What the lifter's goal says to a choice of variant; nothing for the others."""
    return {"total": TOTAL, "muscle": MUSCLE}.get(goal, "")
