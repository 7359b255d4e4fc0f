"""Squat stands and bench, as boxes in the lifter's axes."""

from coachdesk.demo.drawing.bench_press_motion import PAD_HEIGHT, PELVIS_X
from coachdesk.demo.drawing.canvas import Box
from coachdesk.demo.drawing.looks import GYM


def rack(behind: bool) -> list[Box]:
    """Squat stands with hooks, safety arms and feet; behind the lifter or in front."""
    sign = -1.0 if behind else 1.0
    x, colour = sign * 0.95, GYM["rack"]
    boxes = []
    for y in (-0.57, 0.57):
        boxes.append(Box((x - 0.25, y - 0.035, 0.0), (x + 0.25, y + 0.035, 0.05), colour))
        boxes.append(Box((x - 0.035, y - 0.035, 0.0), (x + 0.035, y + 0.035, 2.15), colour))
        hook = sorted((x, x - sign * 0.10))
        boxes.append(Box((hook[0], y - 0.03, 1.30), (hook[1], y + 0.03, 1.33), GYM["steel"]))
    boxes.append(Box((x - 0.03, -0.57, 2.06), (x + 0.03, 0.57, 2.13), colour))
    boxes.append(Box((x - 0.02, -0.57, 0.18), (x + 0.02, 0.57, 0.23), colour))
    return boxes


def bench() -> list[Box]:
    """Bench and its two uprights, all of it behind the lifter as the camera sees them."""
    steel, pad = GYM["rack"], GYM["pad"]
    head, foot = PELVIS_X - 1.08, PELVIS_X + 0.14
    body = [
        Box((head + 0.12, -0.04, 0.05), (head + 0.18, 0.04, PAD_HEIGHT - 0.08), steel),
        Box((foot - 0.2, -0.04, 0.05), (foot - 0.14, 0.04, PAD_HEIGHT - 0.08), steel),
        Box((foot - 0.2, -0.26, 0.0), (foot - 0.14, 0.26, 0.05), steel),
        Box((head + 0.12, -0.6, 0.0), (head + 0.18, 0.6, 0.05), steel),
        Box((head, -0.04, PAD_HEIGHT - 0.12), (foot, 0.04, PAD_HEIGHT - 0.07), steel),
        Box((head, -0.15, PAD_HEIGHT - 0.07), (foot, 0.15, PAD_HEIGHT), pad),
    ]
    uprights = []
    for y in (-0.56, 0.56):
        uprights.append(Box((head + 0.12, y - 0.03, 0.0), (head + 0.18, y + 0.03, 1.05), steel))
        uprights.append(
            Box((head + 0.16, y - 0.03, 0.98), (head + 0.30, y + 0.03, 1.01), GYM["steel"])
        )
    return body + uprights
