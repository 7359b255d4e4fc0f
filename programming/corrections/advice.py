"""What the trade says before a coach chooses a correction. Common practice, no source."""

HEAVY_ONLY = (
    "It shows on the heavy sets only, from {load} on: answer it with load, and strength in the new "
    "position, before more cues."
)
TOTAL = "For a competition total the more efficient variant is preferred."
MUSCLE = "For muscle the choice of variant is free."


def about_goal(goal: str) -> str:
    """What the lifter's goal says to a choice of variant; nothing for the others."""
    return {"total": TOTAL, "muscle": MUSCLE}.get(goal, "")
