"""The movements every club starts with: the trade's common variants, each with its own max."""

from programming.movements.families import Family

# (family, name, bar position, stance, grip, equipment, tempo)
SHIPPED: list[tuple[str, str, str, str, str, str, str]] = [
    (Family.SQUAT, "Low-bar squat", "low bar", "", "", "", ""),
    (Family.SQUAT, "High-bar squat", "high bar", "", "", "", ""),
    (Family.SQUAT, "Low-bar squat in wraps", "low bar", "", "", "knee wraps", ""),
    (Family.SQUAT, "High-bar squat in wraps", "high bar", "", "", "knee wraps", ""),
    (Family.SQUAT, "Pause squat", "low bar", "", "", "", "pause 2 s"),
    (Family.SQUAT, "Front squat", "front rack", "", "", "", ""),
    (Family.BENCH, "Paused bench press", "", "", "competition", "", "pause 1 s"),
    (Family.BENCH, "Touch-and-go bench press", "", "", "competition", "", ""),
    (Family.BENCH, "Close-grip bench press", "", "", "close", "", ""),
    (Family.DEADLIFT, "Conventional deadlift", "", "conventional", "", "", ""),
    (Family.DEADLIFT, "Sumo deadlift", "", "sumo", "", "", ""),
    (Family.DEADLIFT, "Romanian deadlift", "", "conventional", "", "", ""),
    (Family.PRESS, "Overhead press", "front rack", "", "", "", ""),
    (Family.PRESS, "Push press", "front rack", "", "", "", ""),
    (Family.OTHER, "Barbell row", "", "", "", "", ""),
]
