"""What making costs: one pass against four, a remux against a transcode, groups against intra."""

import statistics
import subprocess
from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory

import ffmpeg

from coachdesk.benchmarks.figures import Row, paired_ratio
from coachdesk.demo.drawing import ClipSpec, draw_clip
from reviews.media import graph
from reviews.media.limits import Limits
from reviews.media.make import make
from reviews.media.plan import Plan, plan, without_remux
from reviews.media.probe import probe
from reviews.media.source import Source
from reviews.media.tools import ffmpeg_exe

RUNS = 5
SET_SECONDS = 30
LIMITS = Limits()
PHONE = ClipSpec(size=(1080, 1920), seconds=2.0, reps=1)
OTHERS = [
    ClipSpec(size=(720, 1280), seconds=1.5, reps=1, lift="deadlift", view="45", seed=2),
    ClipSpec(size=(720, 1280), seconds=1.5, reps=1, lift="bench_press", view="front", seed=3),
]


def rows() -> list[Row]:
    with TemporaryDirectory(prefix="bench-media-") as scratch:
        clips = [_Clip(spec, Path(scratch) / str(n)) for n, spec in enumerate([PHONE, *OTHERS])]
        return [_one_pass(clips[0]), _remux(clips[0]), _bytes(clips)]


class _Clip:
    """A drawn phone clip in a folder of its own, with what is needed to make it."""

    def __init__(self, spec: ClipSpec, folder: Path) -> None:
        folder.mkdir()
        self.folder = folder
        draw_clip(spec, folder / "drawn").video.rename(folder / "input")
        self.source = probe(folder / "input", LIMITS)
        self.plan = without_remux(plan(self.source), self.source)

    def out(self, name: str) -> Path:
        folder = self.folder.parent / f"{self.folder.name}-{name}"
        folder.mkdir(exist_ok=True)
        return folder

    def run(self, words: list[str]) -> None:
        make(words, folder=self.folder, frames=1, limits=LIMITS, on_progress=lambda _share: None)


def _one_pass(clip: _Clip) -> Row:
    """The same four outputs by one process and by one process each."""
    together, apart = clip.out("together"), clip.out("apart")
    one = graph.arguments(clip.source, clip.plan, together, LIMITS)
    four = _separate(clip.source, clip.plan, apart)

    def by_four() -> None:
        for words in four:
            clip.run(words)

    ratio = paired_ratio(lambda: clip.run(one), by_four, RUNS)
    _same_outputs(together, apart)
    return _row("media.one_pass", ratio, "separate commands for the same outputs")


def _separate(source: Source, wanted: Plan, out: Path) -> list[list[str]]:
    """Four command lines, each of which opens and decodes the source for one output."""

    def picture() -> tuple[ffmpeg.Stream, ffmpeg.Stream]:
        given = graph.opened(source, LIMITS) | {"noautorotate": None}
        clip = ffmpeg.input("input", **given)
        return clip, graph.upright(source, wanted, clip[str(source.video.index)])

    raw = {"format": "rawvideo", "pix_fmt": "rgb24", "fps_mode": "passthrough"}
    clip, shown = picture()
    heard = graph.sound(clip, source, wanted)[0]
    options = graph.playable_options(source, wanted)
    playable = ffmpeg.output(shown, heard, str(out / graph.PLAYABLE), **options)
    poster = picture()[1].filter("select", f"eq(n,{wanted.poster})")
    tiles = graph.tiles(picture()[1], wanted, wanted.picks)
    drawn = graph.sound(picture()[0], source, wanted)[1]
    return [
        graph.words([playable]),
        graph.words([ffmpeg.output(poster, str(out / graph.POSTER), **raw | {"frames:v": 1})]),
        graph.words([ffmpeg.output(tiles, str(out / graph.TILES), **raw)]),
        graph.words([ffmpeg.output(drawn, str(out / graph.SOUND), format="s16le")]),
    ]


def _same_outputs(ours: Path, theirs: Path) -> None:
    """A race between unequal things would prove nothing."""
    for name in (graph.POSTER, graph.TILES):
        if (ours / name).read_bytes() != (theirs / name).read_bytes():
            raise AssertionError(f"{name} differs between one pass and separate commands")
    sounds = {(folder / graph.SOUND).stat().st_size for folder in (ours, theirs)}
    if len(sounds) != 1:  # the rounding of samples may differ, their number may not
        raise AssertionError(f"sound is {sounds} bytes")


def _remux(clip: _Clip) -> Row:
    """The playable of a clip that fits already: copied, and coded again."""
    folder = clip.out("fitting")
    _play_on(clip.out("together") / graph.PLAYABLE, folder / "input")
    source = probe(folder / "input", LIMITS)
    copied = plan(source)
    if not copied.remux:
        raise AssertionError("our own playable does not fit our own rules")
    again = without_remux(copied, source)
    limits = LIMITS

    def by(wanted: Plan) -> Callable[[], None]:
        words = graph.arguments(source, wanted, clip.out("again"), limits)
        return lambda: make(
            words, folder=folder, frames=1, limits=limits, on_progress=lambda _share: None
        )

    return _row("media.remux", paired_ratio(by(copied), by(again), RUNS), "transcode of the clip")


def _play_on(playable: Path, into: Path) -> None:
    """A clip as long as a set takes, by repeating a short one (drawing is slow).

    Pictures only: the sound is a little longer and would leave gaps at the joints.
    """
    given = {"stream_loop": SET_SECONDS // int(PHONE.seconds or 1) - 1}
    copied = ffmpeg.input(str(playable), **given).output(str(into), c="copy", an=None, format="mp4")
    subprocess.run([ffmpeg_exe(), "-nostdin", "-v", "error", *copied.get_args()], check=True)


def _bytes(clips: list[_Clip]) -> Row:
    """Pictures only, at the same rate factor, over several drawn lifts and views."""
    shares = []
    for clip in clips:
        sizes = []
        for group in (graph.GROUP, 1):
            given = graph.opened(clip.source, LIMITS) | {"noautorotate": None}
            stored = ffmpeg.input("input", **given)[str(clip.source.video.index)]
            out = clip.out("bytes") / f"{group}.mp4"
            options = graph.playable_options(clip.source, clip.plan) | {"g": group}
            shown = graph.upright(clip.source, clip.plan, stored)
            clip.run(graph.words([ffmpeg.output(shown, str(out), **options)]))
            sizes.append(out.stat().st_size)
        shares.append(sizes[0] / sizes[1])
    return _row("play.bytes", statistics.median(shares), "all-intra copy", len(shares))


def _row(name: str, value: float, against: str, runs: int = RUNS) -> Row:
    return Row(name=name, value=round(value, 4), unit="ratio", against=against, runs=runs)
