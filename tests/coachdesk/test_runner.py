"""bin/run on a free port: ready, ended by Ctrl-C, and no orphan when it is killed."""

import contextlib
import json
import os
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import psutil
import pytest

ROOT = Path(__file__).resolve().parents[2]
pytestmark = pytest.mark.kills


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def deaf() -> None:
    """As a shell starts a command in the background: with these signals ignored."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGQUIT, signal.SIG_IGN)


@contextlib.contextmanager
def running(data: Path, port: int, **settings: str) -> Iterator[subprocess.Popen[str]]:
    words = ["--no-demo", "--port", str(port), "--data", str(data)]
    clean = {k: v for k, v in os.environ.items() if not k.startswith("COACHDESK_")}
    process = subprocess.Popen(
        [sys.executable, "-m", "coachdesk.runner", *words],
        cwd=ROOT, env=clean | settings, text=True, preexec_fn=deaf,
        stdout=subprocess.PIPE, stderr=subprocess.STDOUT,
    )  # fmt: skip
    try:
        yield process
    finally:
        if process.poll() is None:
            process.kill()
        process.wait()


def wait_ready(port: int, within: float) -> None:
    start = time.monotonic()
    while time.monotonic() - start < within:
        with contextlib.suppress(OSError):
            url = f"http://127.0.0.1:{port}/health/ready"
            with urllib.request.urlopen(url, timeout=2) as answer:
                assert json.load(answer)["status"] == "ok"
                return
        time.sleep(0.1)
    pytest.fail(f"not ready within {within} s")


def gone(processes: list[psutil.Process], within: float) -> bool:
    _, alive = psutil.wait_procs(processes, timeout=within)
    return not alive


def test_ready_then_ctrl_c_ends_every_child_then_it_starts_again(tmp_path: Path) -> None:
    port = free_port()
    with running(tmp_path, port) as process:
        wait_ready(port, 60)
        children = psutil.Process(process.pid).children(recursive=True)
        assert {"web", "quick", "media", "beat", "valkey"} <= {
            path.stem for path in (tmp_path / "logs").iterdir()
        }
        process.send_signal(signal.SIGINT)
        assert process.wait(20) == 0
        assert gone(children, 5)
    with running(tmp_path, port):
        wait_ready(port, 30)


def manage(data: Path, *words: str) -> subprocess.CompletedProcess[str]:
    """A command beside the running site, which is told the data folder and nothing else."""
    clean = {k: v for k, v in os.environ.items() if not k.startswith("COACHDESK_")}
    return subprocess.run(
        [sys.executable, "manage.py", *words],
        cwd=ROOT, env=clean | {"COACHDESK_DATA": str(data)}, text=True, capture_output=True,
        timeout=120,
    )  # fmt: skip


def readable_by_others(data: Path) -> list[str]:
    paths = [data, *data.rglob("*")]
    return [str(path) for path in paths if not path.is_symlink() and path.stat().st_mode & 0o077]


def test_commands_beside_a_running_site_find_its_address_and_broker_and_nobody_else_reads_it(
    tmp_path: Path,
) -> None:
    data, port = tmp_path / "data", free_port()
    (data / "mail").mkdir(parents=True)  # as an earlier version left it
    (data / "mail" / "sign-in.log").write_text("a link")
    for path in (data, data / "mail"):
        path.chmod(0o755)
    (data / "mail" / "sign-in.log").chmod(0o644)
    with running(data, port):
        wait_ready(port, 60)
        owner = ("--owner-email", "o@example.org", "--owner-name", "Olu")
        founded = manage(data, "found_club", "--name", "Hall", *owner)
        link = founded.stdout.split()[-1]
        assert link.startswith(f"http://localhost:{port}/"), founded.stdout + founded.stderr
        with urllib.request.urlopen(link, timeout=5) as answer:
            assert answer.status == 200
        assert readable_by_others(data) == []
        well = manage(data, "doctor")
        assert well.returncode == 0, well.stdout + well.stderr
        (data / "coachdesk.sqlite3").chmod(0o644)
        unwell = manage(data, "doctor")
        assert unwell.returncode == 1, unwell.stdout + unwell.stderr
        assert "coachdesk.sqlite3" in unwell.stdout


def test_a_killed_parent_leaves_no_orphan(tmp_path: Path) -> None:
    port = free_port()
    with running(tmp_path, port) as process:
        wait_ready(port, 60)
        children = psutil.Process(process.pid).children(recursive=True)
        assert len(children) >= 5
        process.kill()
        process.wait()
        assert gone(children, 20)


def test_it_starts_again_at_once_after_kill_9(tmp_path: Path) -> None:
    port = free_port()
    with running(tmp_path, port) as process:
        wait_ready(port, 60)
        process.kill()
        process.wait()
        with running(tmp_path, port) as again:
            assert again.stdout is not None
            lines = []
            while not any("is ready" in line for line in lines):
                lines.append(again.stdout.readline())
                assert lines[-1], "".join(lines)


def test_the_demo_with_its_public_password_stays_on_this_machine(tmp_path: Path) -> None:
    words = ["--address", "0.0.0.0", "--port", str(free_port()), "--data", str(tmp_path)]
    done = subprocess.run(
        [sys.executable, "-m", "coachdesk.runner", *words],
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=30,
    )
    assert done.returncode == 1
    assert "add --no-demo" in done.stderr


def test_one_data_folder_has_one_server_and_a_taken_port_is_named(tmp_path: Path) -> None:
    port = free_port()
    with running(tmp_path / "a", port):
        wait_ready(port, 60)
        with running(tmp_path / "a", free_port()) as second:
            out, _ = second.communicate(timeout=20)
            assert "already runs on" in out
        with running(tmp_path / "b", port) as third:
            out, _ = third.communicate(timeout=20)
            assert f"Port {port} cannot be used" in out
