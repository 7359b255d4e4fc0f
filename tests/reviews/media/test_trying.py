"""`manage.py try_clip` as a person or a script would run it: no server, no database, no broker."""

import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

KEYS = ["outcome", "reason", "source", "frames", "width", "height", "seconds", "outputs"]
ROOT = Path(__file__).resolve().parents[3]


def try_clip(source: Path, out: Path, tmp_path: Path) -> tuple[int, dict[str, object]]:
    """Exit status and the one object on standard output."""
    nowhere = {"COACHDESK_DATA": str(tmp_path / "no-data"), "REDIS_URL": "redis://127.0.0.1:1/0"}
    ran = subprocess.run(
        [sys.executable, "manage.py", "try_clip", str(source), "--out", str(out)],
        cwd=ROOT,
        env=os.environ | nowhere,
        capture_output=True,
        timeout=60,
        check=False,
    )
    answer = json.loads(ran.stdout)
    assert list(answer) == KEYS
    assert not list((tmp_path / "no-data").glob("**/*.sqlite3"))
    return ran.returncode, answer


def test_playable(encoded: Callable[[str], Path], tmp_path: Path) -> None:
    out = tmp_path / "a" / "b"
    status, answer = try_clip(encoded("h264.mp4"), out, tmp_path)
    assert status == 0
    assert (answer["outcome"], answer["reason"], answer["frames"]) == ("playable", None, 24)
    assert (answer["width"], answer["height"], answer["seconds"]) == (320, 180, 0.8)
    outputs = answer["outputs"]
    assert isinstance(outputs, dict)
    assert {"playable", "poster", "filmstrip", "waveform", "frames", "original"} == set(outputs)
    assert all(Path(path).stat().st_size for path in outputs.values())


def test_another_clip_into_the_same_folder(encoded: Callable[[str], Path], tmp_path: Path) -> None:
    out = tmp_path / "out"
    try_clip(encoded("h264.mp4"), out, tmp_path)
    status, answer = try_clip(encoded("silent.mp4"), out, tmp_path)
    assert status == 0
    assert "waveform" not in answer["outputs"]  # type: ignore[operator]
    assert not (out / "waveform.json").exists(), "nothing of the first clip stays"


@pytest.mark.parametrize("given", ["text", "missing", "folder"])
def test_failed(given: str, tmp_path: Path) -> None:
    source = tmp_path / "notes.mp4"
    if given == "text":
        source.write_text("not a video")
    elif given == "folder":
        source.mkdir()
    status, answer = try_clip(source, tmp_path / "out", tmp_path)
    assert status == 2
    assert answer["outcome"] == "failed"
    assert str(answer["reason"]).endswith(".")
    assert answer["outputs"] == {}
    assert not (tmp_path / "out").exists()


def test_the_wing_is_pure() -> None:
    """A notebook or a worker can use it: nothing of Django is imported."""
    program = (
        "import sys, pkgutil, importlib, reviews.media as wing\n"
        "for found in pkgutil.iter_modules(wing.__path__):\n"
        "    importlib.import_module(f'reviews.media.{found.name}')\n"
        "assert not [name for name in sys.modules if name.split('.')[0] == 'django']\n"
    )
    subprocess.run([sys.executable, "-c", program], cwd=ROOT, check=True, timeout=30)
