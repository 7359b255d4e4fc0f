"""The runner holds what it starts: in time, in memory, in the group, and in death."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from reviews.media import run as run_module
from reviews.media.limits import Limits
from reviews.media.machine import MachineFault
from reviews.media.refusals import Interrupted, Refused
from reviews.media.run import Ran, run

PYTHON = sys.executable


def go(*command: str, folder: Path, limits: Limits | None = None, wall: float = 20.0) -> Ran:
    return run(command, folder=folder, limits=limits or Limits(), wall_seconds=wall)


def is_alive(pid: int) -> bool:
    try:
        return Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0] != "Z"
    except FileNotFoundError:
        return False


def wait_until_dead(pid: int) -> bool:
    end = time.monotonic() + 5
    while is_alive(pid) and time.monotonic() < end:
        time.sleep(0.02)
    return not is_alive(pid)


def test_output_and_status(tmp_path: Path) -> None:
    ran = go("/bin/sh", "-c", "echo out; echo err >&2; pwd; exit 3", folder=tmp_path)
    assert ran.status == 3
    assert ran.output.decode().split() == ["out", str(tmp_path)]
    assert ran.errors == "err\n"


def test_bare_surroundings(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SECRET_KEY", "not for ffmpeg")
    ran = go("/usr/bin/env", folder=tmp_path)
    assert b"SECRET" not in ran.output
    assert go("/bin/cat", folder=tmp_path).output == b"", "there is nothing to read"


def test_out_of_time_ends_the_whole_group(tmp_path: Path) -> None:
    pids: list[int] = []

    def note(line: str) -> bool:
        pids.append(int(line))
        return True

    with pytest.raises(Refused, match="too_hard"):
        run(
            ["/bin/sh", "-c", "sleep 60 & echo $!; wait"],
            folder=tmp_path,
            limits=Limits(),
            wall_seconds=0.5,
            on_line=note,
        )
    assert wait_until_dead(pids[0]), "its child lives on"


def still(*command: str, folder: Path) -> None:
    run(
        command,
        folder=folder,
        limits=Limits(),
        wall_seconds=20,
        stall_seconds=0.5,
        on_line=lambda _line: False,
    )


def test_working_without_progress(tmp_path: Path) -> None:
    with pytest.raises(Refused, match="no progress"):
        still("/bin/sh", "-c", "echo frame=1; while :; do :; done", folder=tmp_path)


def test_not_getting_to_work_is_worth_another_try(tmp_path: Path) -> None:
    with pytest.raises(Interrupted, match="busy"):
        still("/bin/sh", "-c", "while :; do echo frame=1; sleep 0.2; done", folder=tmp_path)


def test_memory_is_bounded(tmp_path: Path) -> None:
    limits = Limits(memory=300 * 1024**2)
    ran = go(PYTHON, "-c", "bytearray(600 * 1024**2)", folder=tmp_path, limits=limits)
    assert ran.status != 0
    assert "MemoryError" in ran.errors


def test_output_is_bounded(tmp_path: Path) -> None:
    program = "open('big', 'wb').write(bytes(3_000_000))"
    with pytest.raises(Refused, match="output size"):
        go(PYTHON, "-c", program, folder=tmp_path, limits=Limits(output_bytes=1_000_000))
    assert (tmp_path / "big").stat().st_size <= 1_000_000


def test_complaints_are_not_kept_without_end(tmp_path: Path) -> None:
    ran = go("/bin/sh", "-c", "yes complaint | head -c 5000000 >&2", folder=tmp_path)
    assert len(ran.errors) <= 16_384


def test_a_kill_from_outside_is_worth_another_try(tmp_path: Path) -> None:
    with pytest.raises(Interrupted, match="killed"):
        go("/bin/sh", "-c", "kill -9 $$", folder=tmp_path)


def test_a_full_disk_is_worth_another_try(tmp_path: Path) -> None:
    """/dev/full answers each write as a full disk does (full(4))."""
    with pytest.raises(MachineFault, match="disk") as caught:
        go("/bin/sh", "-c", "cat /dev/zero > /dev/full", folder=tmp_path)
    assert caught.value.part == "disk"


def test_a_missing_program_is_named(tmp_path: Path) -> None:
    with pytest.raises(MachineFault, match="nowhere") as caught:
        go("/nowhere/ffmpeg", folder=tmp_path)
    assert caught.value.part == "program"


def test_what_the_kernel_ended_for_want_of_memory_is_the_machines(
    tmp_path: Path, monkeypatch
) -> None:
    kills = iter([3, 4])
    monkeypatch.setattr(run_module, "out_of_memory_kills", lambda: next(kills))
    with pytest.raises(MachineFault) as caught:
        go("/bin/sh", "-c", "kill -9 $$", folder=tmp_path)
    assert caught.value.part == "memory"


def test_dies_with_its_worker(tmp_path: Path) -> None:
    """kill -9 gives the worker no chance to tidy up; the kernel does it (prctl(2))."""
    program = (
        "import sys; from pathlib import Path; from reviews.media.limits import Limits;"
        "from reviews.media.run import run;"
        "run(['/bin/sh', '-c', 'echo $$; exec sleep 60'], folder=Path(sys.argv[1]),"
        "limits=Limits(), wall_seconds=60, on_line=lambda line: print(line, flush=True) or True)"
    )
    with subprocess.Popen(
        [PYTHON, "-c", program, str(tmp_path)], stdout=subprocess.PIPE, cwd=Path.cwd(), text=True
    ) as worker:
        assert worker.stdout is not None
        pid = int(worker.stdout.readline())
        assert is_alive(pid)
        os.kill(worker.pid, signal.SIGKILL)
    assert wait_until_dead(pid)
