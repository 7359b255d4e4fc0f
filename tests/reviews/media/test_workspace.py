"""Working folders vanish, also those of the dead; published folders appear whole."""

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from reviews.media.workspace import publish, workspace


def test_gone_at_the_end(tmp_path: Path) -> None:
    with workspace(tmp_path / "new") as folder:
        (folder / "file").touch()
    assert list((tmp_path / "new").iterdir()) == []


def test_gone_after_an_error(tmp_path: Path) -> None:
    with pytest.raises(ZeroDivisionError), workspace(tmp_path):
        raise ZeroDivisionError
    assert list(tmp_path.iterdir()) == []


def test_the_living_are_left_alone(tmp_path: Path) -> None:
    with workspace(tmp_path) as first, workspace(tmp_path) as second:
        assert first != second
        assert first.is_dir()


def test_the_dead_are_cleared_away(tmp_path: Path) -> None:
    program = (
        "import sys, time; from pathlib import Path\n"
        "from reviews.media.workspace import workspace\n"
        "with workspace(Path(sys.argv[1])) as folder:\n"
        "    print(folder, flush=True); time.sleep(60)\n"
    )
    with subprocess.Popen(
        [sys.executable, "-c", program, str(tmp_path)], stdout=subprocess.PIPE, text=True
    ) as worker:
        assert worker.stdout is not None
        left = Path(worker.stdout.readline().strip())
        os.kill(worker.pid, signal.SIGKILL)
    assert left.is_dir(), "a killed process cannot tidy up"
    with workspace(tmp_path):
        assert not left.exists()


def test_publish_into_nothing_or_an_empty_folder(tmp_path: Path) -> None:
    for name in ("absent", "empty"):
        made = tmp_path / "made"
        made.mkdir()
        (made / "file").write_text("whole")
        if name == "empty":
            (tmp_path / name).mkdir()
        publish(made, tmp_path / name)
        assert (tmp_path / name / "file").read_text() == "whole"


def test_publish_never_overwrites(tmp_path: Path) -> None:
    made, out = tmp_path / "made", tmp_path / "out"
    for folder, text in ((made, "new"), (out, "old")):
        folder.mkdir()
        (folder / "file").write_text(text)
    with pytest.raises(OSError, match="not empty"):
        publish(made, out)
    assert (out / "file").read_text() == "old"
