"""A source as probing would find it, to vary one fact at a time."""

from dataclasses import replace
from fractions import Fraction
from typing import Any

from reviews.media.source import Audio, Source, Video

VIDEO = Video(
    index=0,
    codec="h264",
    profile="High",
    pix_fmt="yuv420p",
    width=1280,
    height=720,
    sample_aspect=Fraction(1),
    orientation=(1, 0, 0, 1),
    transfer=1,
    primaries=1,
    matrix=1,
    full_range=False,
    interlaced=False,
    time_base=Fraction(1, 90_000),
    pts=tuple(range(0, 300_000, 3000)),
    last_duration=3000,
    promised_frames=100,
    trimmed=0,
    keyframes=tuple(range(0, 100, 15)),
    closed_keyframes=True,
    reordered=False,
    size=500_000,
)
AUDIO = Audio(index=1, codec="aac", profile="LC", channels=2, rate=48_000, start=0.0)
SOURCE = Source(demuxer="mov", brand="isom", start=0.0, capture_rate=None, video=VIDEO, audio=AUDIO)


def with_video(**facts: Any) -> Source:
    return replace(SOURCE, video=replace(VIDEO, **facts))


def with_audio(**facts: Any) -> Source:
    return replace(SOURCE, audio=replace(AUDIO, **facts))
