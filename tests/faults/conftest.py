"""Clips and workers for the fault tests. The workers use the test's own database and folders."""

import subprocess
import sys
from collections.abc import Callable, Iterator
from hashlib import sha256
from pathlib import Path

import pytest
from celery import Celery
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage

from coachdesk.common import after_commit
from reviews.intake import jobs
from reviews.intake.models import Clip, MediaJob, Submission
from reviews.media.tools import ffmpeg_exe
from tests import databases
from tests.faults.ground import Ground

Send = Callable[[bytes], MediaJob]


@pytest.fixture
def ground(transactional_db, tmp_path: Path, settings, monkeypatch) -> Iterator[Ground]:
    assert tmp_path / "media" == settings.MEDIA_ROOT, "workers find files by the same settings"
    ground = Ground(tmp_path, databases.of_tests())
    ours = Celery("coachdesk-tests", broker=ground.url, set_as_current=False)
    ours.config_from_object("django.conf:settings", namespace="CELERY")
    ours.conf.broker_url = ground.url
    monkeypatch.setattr(after_commit, "current_app", ours)
    try:
        yield ground
    finally:
        ours.close()
        ground.end()
        sys.stdout.write(ground.log())  # shown when the test failed


@pytest.fixture
def send(cast) -> Send:
    """Puts a clip of the given bytes in as an upload does, and asks for it to be made."""

    def send(content: bytes) -> MediaJob:
        submission = Submission.objects.create(club=cast.athlete.club, athlete=cast.athlete)
        clip = Clip.objects.create(
            submission=submission,
            original=default_storage.save("originals/lift", ContentFile(content)),
            sha256=sha256(content).hexdigest(),
            size=len(content),
        )
        return jobs.enqueue(clip)

    return send


def _encode(path: Path, *, size: str, seconds: float) -> bytes:
    source = f"testsrc2=size={size}:rate=60:duration={seconds},noise=alls=20:allf=t"
    words = ["-f", "lavfi", "-i", source, "-c:v", "libx264", "-preset", "ultrafast"]
    words += ["-pix_fmt", "yuv420p", "-g", "250", str(path)]
    subprocess.run([ffmpeg_exe(), "-v", "error", *words], check=True, timeout=120)
    return path.read_bytes()


@pytest.fixture(scope="session")
def long_lift(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    """Keeps ffmpeg busy for some seconds."""
    path = tmp_path_factory.mktemp("long") / "long.mp4"
    return _encode(path, size="640x360", seconds=6)


@pytest.fixture(scope="session")
def short_lift(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    path = tmp_path_factory.mktemp("short") / "short.mp4"
    return _encode(path, size="320x240", seconds=0.5)
