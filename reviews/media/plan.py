"""Decide what to make of a source. Pure: facts in, plan out."""

from bisect import bisect_left
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise
from typing import Literal

from reviews.media.source import BT2020_PRIMARIES, UPRIGHT, Audio, Source

# Part of every derived file's address: raise it when the same source would give other bytes.
RECIPE = "1"

LONGEST_SIDE = 1280
GROUP = 15  # pictures from one key frame to the next: seeks at 1.1 of all-intra, 0.2 of its bytes
TILES = 60
TILE_HEIGHT = 96
_TILE_WIDEST = 256
_REMUX_PROFILES = {"Baseline", "Constrained Baseline", "Main", "High"}
_REMUX_BITS_PER_SECOND = 8_000_000  # more than this stutters on a phone away from home
_TIMESCALES = range(600, 1_000_001)
_COMMON_TIMESCALE = 90_000
_AUDIO_RATES = (44_100, 48_000)


@dataclass(frozen=True, kw_only=True)
class Plan:
    """What to make. Frame numbers count the frames of the source, sizes are pixels.

    `picks` are the frames of the filmstrip; in a remux they are key frames, which can be decoded
    alone. `timescale` is in ticks per second.
    """

    remux: bool
    width: int
    height: int
    timescale: int
    poster: int
    picks: tuple[int, ...]
    tile_width: int
    tile_height: int
    audio: Literal["copy", "encode", "none"]


def plan(source: Source) -> Plan:
    """The plan for `source`: a remux where it already fits, else a transcode."""
    width, height = playable_size(source)
    remux = fits(source)
    shown = source.video.keyframes if remux else range(source.video.frames)
    picks = spread(source.video.pts, TILES, shown)
    return Plan(
        remux=remux,
        width=width,
        height=height,
        timescale=playable_timescale(source.video.time_base),
        poster=picks[len(picks) // 2],
        picks=picks,
        tile_width=min(_TILE_WIDEST, max(16, round(TILE_HEIGHT * width / height))),
        tile_height=TILE_HEIGHT,
        audio=_audio(source, remux),
    )


def without_remux(made: Plan, source: Source) -> Plan:
    """The same plan as a transcode, for a source that only looked as if it fitted."""
    return replace(made, remux=False, audio=_audio(source, False))


def fits(source: Source) -> bool:
    """True when a browser plays the source's own pictures well, so none need be made again."""
    video = source.video
    bits = 8 * video.size / max(video.seconds, 1.0)
    return (
        video.codec == "h264"
        and video.profile in _REMUX_PROFILES
        and video.pix_fmt == "yuv420p"
        and not (video.is_hdr or video.primaries == BT2020_PRIMARIES or video.full_range)
        and not video.interlaced
        and video.orientation == UPRIGHT
        and video.sample_aspect == 1
        and max(video.width, video.height) <= LONGEST_SIDE
        and (video.width, video.height) == playable_size(source)
        and video.closed_keyframes
        and video.keyframes[0] == 0
        and video.longest_group <= GROUP
        and video.trimmed == 0
        and not (video.uneven and video.reordered)  # see graph.h264
        and all(later > earlier for earlier, later in pairwise(video.pts))
        and playable_timescale(video.time_base) == video.time_base.denominator
        and abs(float(video.pts[0] * video.time_base) - source.start) < 1e-6
        and bits <= _REMUX_BITS_PER_SECOND
    )


def playable_size(source: Source) -> tuple[int, int]:
    """Upright, square pixels, longest side capped, never enlarged, even (4:2:0 needs it)."""
    wide, high = source.video.upright_size
    factor = min(Fraction(1), Fraction(LONGEST_SIDE) / max(wide, high))
    return _even(wide * factor), _even(high * factor)


def playable_timescale(time_base: Fraction) -> int:
    """Ticks per second that keep the source's times exact, within what players handle."""
    if time_base.numerator != 1:
        return _COMMON_TIMESCALE
    ticks = time_base.denominator
    if ticks < _TIMESCALES.start:
        ticks *= -(-_TIMESCALES.start // ticks)
    return ticks if ticks in _TIMESCALES else _COMMON_TIMESCALE


def spread(pts: tuple[int, ...], most: int, shown: range | tuple[int, ...]) -> tuple[int, ...]:
    """Up to `most` frame numbers out of `shown`, evenly spaced in time, each at most once.

    Evenly in time, not in number: the filmstrip is the time axis, and rates vary.
    """
    times = [pts[number] for number in shown]
    count = min(most, len(times))
    span = pts[-1] - pts[0]
    wanted = (pts[0] + span * (2 * n + 1) // (2 * count) for n in range(count))
    return tuple(sorted({shown[_nearest(times, time)] for time in wanted}))


def _nearest(times: list[int], time: int) -> int:
    after = min(bisect_left(times, time), len(times) - 1)
    before = max(after - 1, 0)
    return before if time - times[before] <= times[after] - time else after


def _even(length: Fraction) -> int:
    return max(2, int(length) // 2 * 2)


def _audio(source: Source, remux: bool) -> Literal["copy", "encode", "none"]:
    audio = source.audio
    if audio is None or _late(audio, source):
        return "none"
    ready = audio.codec == "aac" and audio.profile == "LC" and audio.channels <= 2
    return "copy" if remux and ready and audio.rate in _AUDIO_RATES else "encode"


def _late(audio: Audio, source: Source) -> bool:
    """Sound that begins after the last frame is none."""
    video = source.video
    return audio.start >= float(video.pts[0] * video.time_base) + video.seconds
