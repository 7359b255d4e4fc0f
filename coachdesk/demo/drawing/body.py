"""The lifter's body: segment lengths from standing height, and the names of the joints.

Proportions are those of Drillis and Contini 1966 as fractions of standing height, from memory.
The grip is a closed fist, so the forearm reaches from the elbow to the bar's centre: 0.146 for
the forearm and 0.045 for wrist to grip (our choice).
"""

from dataclasses import dataclass

from coachdesk.demo.drawing.vectors import Floats

Skeleton = dict[str, Floats]

SIDES = ("left", "right")
SIGN = {"left": 1.0, "right": -1.0}

SPINE_SHARES = (0.30, 0.30, 0.40)


@dataclass(frozen=True)
class Body:
    """Segment lengths and joint spacings in metres."""

    height: float
    shank: float
    thigh: float
    trunk: float
    upper_arm: float
    forearm: float
    foot: float
    ankle: float
    shoulder_half: float
    hip_half: float

    @property
    def leg(self) -> float:
        """Hip to ankle with the knee locked; a hair short so that the knee keeps its side."""
        return 0.9985 * (self.shank + self.thigh)

    @property
    def arm(self) -> float:
        """Shoulder to grip with the elbow locked."""
        return 0.9985 * (self.upper_arm + self.forearm)


def body_of(height: float) -> Body:
    """A body of this standing height in metres."""
    return Body(
        height=height,
        shank=0.246 * height,
        thigh=0.245 * height,
        trunk=0.288 * height,
        upper_arm=0.186 * height,
        forearm=0.191 * height,
        foot=0.152 * height,
        ankle=0.039 * height,
        shoulder_half=0.102 * height,
        hip_half=0.054 * height,
    )
