"""Lift families and the phases a rep of each goes through."""

from django.db import models


class Family(models.TextChoices):
    SQUAT = "squat", "Squat"
    BENCH = "bench", "Bench press"
    DEADLIFT = "deadlift", "Deadlift"
    PRESS = "press", "Overhead press"
    OTHER = "other", "Other"


class Phase(models.TextChoices):
    SETUP = "setup", "setup"
    DESCENT = "descent", "descent"
    TURNAROUND = "turnaround", "turnaround"
    ASCENT = "ascent", "ascent"
    LOCKOUT = "lockout", "lockout"
    RETURN = "return", "return"


DOWN_THEN_UP = [Phase.SETUP, Phase.DESCENT, Phase.TURNAROUND, Phase.ASCENT, Phase.LOCKOUT]
UP_THEN_DOWN = [Phase.SETUP, Phase.ASCENT, Phase.LOCKOUT, Phase.RETURN]


def phases_of(family: str) -> list[Phase]:
    """The phases in the order they happen; a deadlift and a press begin with the ascent."""
    return UP_THEN_DOWN if family in {Family.DEADLIFT, Family.PRESS} else DOWN_THEN_UP
