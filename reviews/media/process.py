"""The single entry: a file goes in, a folder of everything a page needs comes out, or a reason."""

import json
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from reviews.media import clean, graph, pictures
from reviews.media.frames import BadTable, FrameTable, frame_table
from reviews.media.limits import Limits
from reviews.media.machine import MachineFault, interrupted
from reviews.media.made import Made, load
from reviews.media.make import make
from reviews.media.plan import RECIPE, Plan, plan, without_remux
from reviews.media.probe import probe
from reviews.media.refusals import Interrupted, Refused
from reviews.media.source import Source
from reviews.media.workspace import publish, workspace

Progress = Callable[[float], None]

_MADE_SHARE = 0.9  # of the time; the rest is copying and drawing
_LOST_SHARE = 0.1  # pictures before the first key frame of a trimmed clip cannot be decoded


def process(source: Path, out: Path, *, on_progress: Progress, limits: Limits) -> Made:
    """Make the clip at `source` playable in the folder `out`, whole or not at all.

    `out` is the caller's address for (original, recipe): if this recipe already published there,
    that is returned and nothing is done. Otherwise it must be absent or empty. Its parent is used
    for work. `on_progress` gets 0 to 1. Raises Refused (the file) or Interrupted (the machine).
    """
    done = load(out)
    if done is not None and done.recipe == RECIPE:
        on_progress(1.0)
        return done
    try:
        with workspace(out.parent) as work:
            made = _Job(source, work, limits, on_progress).run()
            try:
                publish(work / "out", out)
            except OSError as error:
                done = load(out)  # a second worker on the same clip was faster
                if done is None:
                    if isinstance(fault := interrupted(error), MachineFault):
                        raise fault from error
                    raise Interrupted(f"cannot publish into {out.name}: {error}") from error
                made = done
    except OSError as error:
        raise interrupted(error) from error
    on_progress(1.0)
    return made


class _Job:
    """One clip on its way through probe, plan and make."""

    def __init__(self, path: Path, work: Path, limits: Limits, on_progress: Progress) -> None:
        self._limits = limits
        self._on_progress = on_progress
        self._in = work / "in"
        self._raw = work / "raw"
        self._out = work / "out"
        for folder in (self._in, self._raw, self._out):
            folder.mkdir()
        # The folder that ffmpeg works in holds this name and nothing else.
        (self._in / "input").symlink_to(path.resolve(strict=True))

    def run(self) -> Made:
        source = probe(self._in / "input", self._limits)
        wanted = plan(source)
        table = self._try(source, wanted) if wanted.remux else None
        if table is None:
            wanted = without_remux(wanted, source)
            table = self._make(source, wanted)
        files, strip = self._draw(wanted, table)
        files["original"] = self._copy_clean(source)
        made = Made(
            files=files,
            frames=len(table.pts),
            width=wanted.width,
            height=wanted.height,
            seconds=round(table.seconds, 6),
            timescale=table.timescale,
            time_scale=table.time_scale,
            filmstrip=strip,
            remuxed=wanted.remux,
            recipe=RECIPE,
            source=source.to_json(),
        )
        made.save(self._out)
        return made

    def _try(self, source: Source, wanted: Plan) -> FrameTable | None:
        """A remux, or None when the result is not what a player needs after all."""
        try:
            table = self._make(source, wanted)
        except (Refused, BadTable):
            return None
        return table if len(table.pts) == source.video.frames else None

    def _make(self, source: Source, wanted: Plan) -> FrameTable:
        make(
            graph.arguments(source, wanted, self._raw, self._limits),
            folder=self._in,
            frames=source.video.frames,
            limits=self._limits,
            on_progress=lambda share: self._on_progress(share * _MADE_SHARE),
        )
        seconds = self._limits.max_seconds + 5
        playable = probe(self._raw / graph.PLAYABLE, replace(self._limits, max_seconds=seconds))
        table = frame_table(playable, source.time_scale)
        _check_whole(source, table)
        return table

    def _draw(self, wanted: Plan, table: FrameTable) -> tuple[dict[str, str], pictures.Filmstrip]:
        files = {"playable": "playable.mp4", "poster": "poster.jpg", "filmstrip": "filmstrip.jpg"}
        (self._raw / graph.PLAYABLE).rename(self._out / files["playable"])
        pictures.poster(self._raw / graph.POSTER, wanted, self._out / files["poster"])
        strip = pictures.filmstrip(self._raw / graph.TILES, wanted, self._out / files["filmstrip"])
        if pictures.waveform(self._raw / graph.SOUND, table.seconds, self._out / "waveform.json"):
            files["waveform"] = "waveform.json"
        files["frames"] = "frames.json"
        text = json.dumps(table.to_json(), separators=(",", ":"))
        (self._out / files["frames"]).write_text(text)
        return files, strip

    def _copy_clean(self, source: Source) -> str:
        name = f"original-clean.{clean.extension(source)}"
        make(
            clean.arguments(source, self._out / name, self._limits),
            folder=self._in,
            frames=source.video.frames,
            limits=self._limits,
            on_progress=lambda share: self._on_progress(_MADE_SHARE + share * (1 - _MADE_SHARE)),
        )
        return name


def _check_whole(source: Source, table: FrameTable) -> None:
    """ffmpeg ends well on a file that was cut: compare what came out with what was promised."""
    promised = source.video.promised_frames
    if promised - len(table.pts) > max(3, promised * _LOST_SHARE):
        raise Refused("cut_off", f"{len(table.pts)} of {promised} frames")
