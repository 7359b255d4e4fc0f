"""The single entry: whole or not at all, once, and never touching the original."""

import hashlib
import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from reviews.media.limits import Limits
from reviews.media.made import load
from reviews.media.plan import RECIPE
from reviews.media.process import process
from reviews.media.refusals import Interrupted, Refused
from tests.reviews.media.conftest import Processed
from tests.reviews.media.encodes import run_ffmpeg

Encoded = Callable[[str], Path]


def go(source: Path, out: Path, limits: Limits | None = None) -> list[float]:
    progress: list[float] = []
    process(source, out, on_progress=progress.append, limits=limits or Limits())
    return progress


def test_says_what_it_made(processed: Callable[[str], Processed]) -> None:
    clip = processed("h264.mp4")
    assert load(clip.folder) == clip.made
    assert clip.made.recipe == RECIPE
    present = {path.name for path in clip.folder.iterdir()}
    assert present == {*clip.made.files.values(), "made.json"}
    assert clip.made.to_json()["filmstrip"]["count"] == clip.made.filmstrip.count


def test_a_second_time_changes_nothing(encoded: Encoded, tmp_path: Path) -> None:
    out = tmp_path / "clip"
    go(encoded("one_frame.mp4"), out)
    before = {path.name: path.stat().st_mtime_ns for path in out.iterdir()}
    assert go(encoded("one_frame.mp4"), out) == [1.0]
    assert {path.name: path.stat().st_mtime_ns for path in out.iterdir()} == before


def test_a_strange_folder_is_not_touched(encoded: Encoded, tmp_path: Path) -> None:
    out = tmp_path / "clip"
    out.mkdir()
    (out / "other").write_text("theirs")
    with pytest.raises(Interrupted, match="publish"):
        go(encoded("one_frame.mp4"), out)
    assert [path.name for path in tmp_path.iterdir()] == ["clip"]
    assert (out / "other").read_text() == "theirs"


def test_the_original_is_untouched(encoded: Encoded, tmp_path: Path) -> None:
    source = encoded("fitting_tagged.mov")
    before = hashlib.sha256(source.read_bytes()).hexdigest(), source.stat().st_mtime_ns
    go(source, tmp_path / "clip")
    assert (hashlib.sha256(source.read_bytes()).hexdigest(), source.stat().st_mtime_ns) == before


def test_a_missing_original_is_worth_another_try(tmp_path: Path) -> None:
    with pytest.raises(Interrupted):
        go(tmp_path / "nothing.mp4", tmp_path / "clip")
    assert list(tmp_path.iterdir()) == []


def test_too_slow_is_refused(encoded: Encoded, tmp_path: Path) -> None:
    with pytest.raises(Refused, match="too_hard"):
        go(encoded("uhd60.mp4"), tmp_path / "clip", Limits(wall_seconds=0.1))
    assert list(tmp_path.iterdir()) == []


def test_a_monstrous_output_is_refused(encoded: Encoded, tmp_path: Path) -> None:
    with pytest.raises(Refused, match="too_hard"):
        go(encoded("h264.mp4"), tmp_path / "clip", Limits(output_bytes=4096))
    assert list(tmp_path.iterdir()) == []


def test_longer_than_allowed(encoded: Encoded, tmp_path: Path) -> None:
    with pytest.raises(Refused, match="too_long"):
        go(encoded("h264.mp4"), tmp_path / "clip", replace(Limits(), max_seconds=0.5))


def test_killed_in_the_middle(tmp_path: Path) -> None:
    """kill -9 of the worker: no ffmpeg lives on, nothing is published, the next try is whole."""
    source, out = tmp_path / "in" / "long.mp4", tmp_path / "out" / "clip"
    source.parent.mkdir()
    picture = ["-f", "lavfi", "-i", "testsrc2=s=1920x1080:r=30:d=5"]
    quick = ["-c:v", "libx264", "-preset", "ultrafast", "-pix_fmt", "yuv420p"]
    run_ffmpeg([*picture, *quick, str(source)])
    program = (
        "import sys; from pathlib import Path; from reviews.media.limits import Limits;"
        "from reviews.media.process import process;"
        "process(Path(sys.argv[1]), Path(sys.argv[2]), limits=Limits(),"
        "on_progress=lambda share: print(share, flush=True))"
    )
    with subprocess.Popen(
        [sys.executable, "-c", program, str(source), str(out)], stdout=subprocess.PIPE, text=True
    ) as worker:
        assert worker.stdout is not None
        while float(worker.stdout.readline()) < 0.05:
            pass
        assert _working_in(tmp_path)
        os.kill(worker.pid, signal.SIGKILL)
    end = time.monotonic() + 5
    while _working_in(tmp_path) and time.monotonic() < end:
        time.sleep(0.05)
    assert _working_in(tmp_path) == []
    assert not out.exists()
    go(source, out)
    assert load(out) is not None
    assert list(out.parent.iterdir()) == [out], "what the killed one left is gone"


def _working_in(folder: Path) -> list[str]:
    """Command lines of processes whose working folder lies in `folder`."""
    found = []
    for entry in Path("/proc").iterdir():
        if entry.name.isdigit():
            try:
                if (entry / "cwd").resolve().is_relative_to(folder):
                    found.append((entry / "cmdline").read_text())
            except OSError:
                continue  # ended while we looked
    return found
