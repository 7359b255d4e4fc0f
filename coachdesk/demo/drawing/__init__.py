"""Clips drawn by code: a lifter, a bar and a room, seen by a pinhole camera, with exact truth.

No Django here, so that a test, the demo and a benchmark can all draw the same clip.
"""

from coachdesk.demo.drawing.counter import read_counter
from coachdesk.demo.drawing.drawn_clip import DrawnClip, draw_clip, draw_clips
from coachdesk.demo.drawing.spec import ClipSpec

__all__ = ["ClipSpec", "DrawnClip", "draw_clip", "draw_clips", "read_counter"]
