"""One attempt, with the real pipeline on a real encode: what is published, and what is left."""

import json
import subprocess
import time
from collections.abc import Iterator
from datetime import timedelta
from hashlib import sha256
from pathlib import Path

import pytest
from django.core.files.base import ContentFile
from django.core.files.storage import FileSystemStorage, default_storage
from django.db import DatabaseError
from django.utils import timezone

from coachdesk.common.leases import LeaseRenewer, LostLease
from reviews.intake import jobs, making, publishing
from reviews.intake.models import Clip, ClipState, JobState, MediaJob, Submission
from reviews.media.limits import Limits
from reviews.media.refusals import SENTENCES, Interrupted
from reviews.media.run import run
from reviews.media.tools import ffmpeg_exe

# Real transactions: the lease is renewed from a thread of its own.
pytestmark = pytest.mark.django_db(transaction=True)


ANYWHERE = {"folder": Path("/"), "limits": Limits(), "wall_seconds": 10.0}


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A file system of its own with two megabytes; only where this account may mount one."""
    folder = tmp_path / "small-disk"
    folder.mkdir()
    command = ["mount", "-t", "tmpfs", "-o", "size=2m", "tmpfs", str(folder)]
    try:
        done = subprocess.run(command, capture_output=True)
    except FileNotFoundError:
        pytest.skip("no mount here; /dev/full stands for the disk in the tests above")
    if done.returncode:
        pytest.skip("may not mount here; /dev/full stands for the disk in the tests above")
    yield folder
    subprocess.run(["umount", "-l", str(folder)], check=True)


@pytest.fixture(scope="session")
def lift(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    """Half a second of H.264 in MP4, as bytes."""
    path = tmp_path_factory.mktemp("lift") / "lift.mp4"
    source = "testsrc=size=320x240:rate=30:duration=0.5"
    words = ["-f", "lavfi", "-i", source, "-pix_fmt", "yuv420p", str(path)]
    subprocess.run([ffmpeg_exe(), "-v", "error", *words], check=True, timeout=60)
    return path.read_bytes()


@pytest.fixture(autouse=True)
def _no_broker(monkeypatch) -> None:
    monkeypatch.setattr(
        "coachdesk.common.after_commit.current_app.send_task", lambda *args, **options: None
    )


def clip_of(cast, content: bytes) -> Clip:
    submission = Submission.objects.create(club=cast.athlete.club, athlete=cast.athlete)
    return Clip.objects.create(
        submission=submission,
        original=default_storage.save("originals/lift.mp4", ContentFile(content)),
        sha256=sha256(content).hexdigest(),
        size=len(content),
    )


def made(clip: Clip) -> MediaJob:
    job = jobs.enqueue(clip)
    making.attempt(job.pk)
    job.refresh_from_db()
    clip.refresh_from_db()
    return job


def everything(folder: Path) -> set[str]:
    return {str(path.relative_to(folder)) for path in folder.rglob("*") if path.is_file()}


def test_a_clip_becomes_playable_with_every_file_in_place(cast, lift, settings) -> None:
    clip = clip_of(cast, lift)
    job = made(clip)
    assert (job.state, job.progress, job.holder, job.attempts) == (JobState.DONE, 1, "", 1)
    assert (clip.state, clip.frames, clip.recipe) == (ClipState.PLAYABLE, 15, jobs.RECIPE)
    assert clip.made is not None
    for name in clip.made["files"].values():
        assert default_storage.size(f"{clip.derived_folder}/{name}") > 0
    with default_storage.open(f"{clip.derived_folder}/frames.json") as file:
        assert len(json.load(file)["pts"]) == clip.frames
    assert default_storage.open(clip.original).read() == lift, "the original is never altered"
    assert everything(Path(settings.MEDIA_WORK_DIR)) == set()
    assert not publishing.staging_folder().exists()


def test_a_second_message_does_nothing(cast, lift) -> None:
    clip = clip_of(cast, lift)
    job = made(clip)
    rows = MediaJob.objects.values().get(), Clip.objects.values().get()
    making.attempt(job.pk)
    making.attempt(job.pk + 1000)
    assert (MediaJob.objects.values().get(), Clip.objects.values().get()) == rows


def test_the_same_bytes_are_made_once(cast, lift, monkeypatch) -> None:
    first, second = clip_of(cast, lift), clip_of(cast, lift)
    made(first)
    monkeypatch.setattr(making, "process", None)  # calling it would fail
    made(second)
    assert second.state == ClipState.PLAYABLE
    assert second.made == first.made


def test_half_published_files_do_not_count(cast, lift, monkeypatch) -> None:
    """A worker killed while it stored files leaves all but the facts; the next makes it whole."""
    clip = clip_of(cast, lift)
    default_storage.save(
        f"{publishing.derived_folder(clip.sha256, 1)}/playable.mp4", ContentFile(b"half")
    )
    made(clip)
    assert default_storage.size(f"{clip.derived_folder}/playable.mp4") > 100
    assert clip.state == ClipState.PLAYABLE


def test_a_file_that_is_no_video_is_refused_at_once_and_leaves_nothing(cast, settings) -> None:
    clip = clip_of(cast, b"<html>not a lift</html>")
    job = made(clip)
    assert (job.state, job.attempts) == (JobState.FAILED, 1)
    assert (clip.state, clip.reason) == (ClipState.FAILED, SENTENCES["not_a_video"])
    assert everything(Path(settings.MEDIA_WORK_DIR)) == set()
    assert everything(Path(settings.MEDIA_ROOT)) == {clip.original}


def on_full_disk(*args: object, **options: object) -> None:
    with open("/dev/full", "w") as full:  # answers each write as a full disk does (full(4))
        full.write("a frame")


def test_an_interruption_is_tried_again(cast, lift, monkeypatch, settings) -> None:
    def killed(*args: object, **options: object) -> None:
        raise Interrupted("ffmpeg was killed")

    clip = clip_of(cast, lift)
    with monkeypatch.context() as patch:
        patch.setattr(making, "process", killed)
        job = made(clip)
    assert (job.state, job.last_error) == (JobState.QUEUED, "Interrupted: ffmpeg was killed")
    assert (job.attempts, job.fault) == (1, "")
    assert everything(Path(settings.MEDIA_WORK_DIR)) == set()
    making.attempt(job.pk)
    clip.refresh_from_db()
    assert clip.state == ClipState.PLAYABLE


@pytest.mark.parametrize(
    ("part", "fail"),
    [
        ("disk", on_full_disk),
        ("memory", lambda *args, **options: b"0" * 2**62),
        ("program", lambda *args, **options: run(["/nowhere/ffmpeg"], **ANYWHERE)),
    ],
)
def test_what_the_machine_lacks_uses_up_no_attempt(
    cast, lift, monkeypatch, settings, part: str, fail
) -> None:
    clip = clip_of(cast, lift)
    job = jobs.enqueue(clip)
    with monkeypatch.context() as patch:
        patch.setattr(making, "process", fail)
        for tries in range(1, 6):
            MediaJob.objects.update(due_at=timezone.now())  # a minute and more passes
            making.attempt(job.pk)
            job.refresh_from_db()
            assert (job.state, job.attempts, job.fault) == (JobState.QUEUED, 0, part)
            assert job.waits == tries
    making.attempt(job.pk)
    job.refresh_from_db()
    assert job.state == JobState.QUEUED, "it waits its time, also when a message comes"
    clip.refresh_from_db()
    assert (clip.state, clip.reason) == (ClipState.PROCESSING, "")
    assert everything(Path(settings.MEDIA_WORK_DIR)) == set()
    MediaJob.objects.update(due_at=timezone.now())
    making.attempt(job.pk)
    job.refresh_from_db()
    assert (job.state, job.fault, job.waits, job.due_at) == (JobState.DONE, "", 0, None)


def test_a_wait_grows_from_a_minute_to_half_an_hour(cast, lift) -> None:
    job = jobs.enqueue(clip_of(cast, lift))
    waits = []
    for _ in range(8):
        MediaJob.objects.update(due_at=timezone.now())
        before = timezone.now()
        jobs.hold_off(job.pk, part="disk", error="full")
        job.refresh_from_db()
        waits.append(round((job.due_at - before) / timedelta(minutes=1)))
    assert waits == [1, 2, 4, 8, 16, 30, 30, 30]


def test_the_sweeper_leaves_what_waits_for_the_machine(cast, lift, monkeypatch) -> None:
    job = jobs.enqueue(clip_of(cast, lift))
    jobs.hold_off(job.pk, part="disk", error="full")
    MediaJob.objects.update(sent_at=None)
    sent: list[int] = []
    monkeypatch.setattr(jobs, "send", lambda pk: sent.append(pk) or True)
    jobs.sweep()
    assert sent == []
    MediaJob.objects.update(due_at=timezone.now())
    jobs.sweep()
    assert sent == [job.pk]


def test_on_a_disk_without_room_nothing_is_begun(cast, lift, settings, small_disk) -> None:
    """On a real file system of two megabytes."""
    settings.MEDIA_WORK_DIR = small_disk / "work"
    clip = clip_of(cast, lift)
    job = made(clip)
    assert (job.state, job.attempts, job.fault) == (JobState.QUEUED, 0, "disk")
    assert clip.state == ClipState.PROCESSING
    assert not (small_disk / "work").exists()


def test_a_disk_that_fills_up_while_a_clip_is_made(
    cast, lift, settings, monkeypatch, small_disk
) -> None:
    """The same, with the look before switched off: ffmpeg itself meets the end of the disk."""
    settings.MEDIA_WORK_DIR = small_disk / "work"
    monkeypatch.setattr(making, "has_room", lambda folder, size: True)
    filler = small_disk / "somebody-elses"
    filler.write_bytes(b"0" * (2 * 1024**2 - 64 * 1024))
    clip = clip_of(cast, lift)
    job = made(clip)
    assert (job.state, job.attempts, job.fault) == (JobState.QUEUED, 0, "disk"), job.last_error
    assert [path.name for path in (small_disk / "work").iterdir()] == []
    filler.unlink()
    jobs.try_again(clip)
    making.attempt(job.pk)
    clip.refresh_from_db()
    assert clip.state == ClipState.PLAYABLE


def test_a_bug_is_told_to_the_log_and_tried_again(cast, lift, monkeypatch) -> None:
    clip = clip_of(cast, lift)
    monkeypatch.setattr(making, "process", lambda *args, **options: 1 / 0)
    job = jobs.enqueue(clip)
    with pytest.raises(ZeroDivisionError):
        making.attempt(job.pk)
    job.refresh_from_db()
    assert (job.state, job.last_error) == (JobState.QUEUED, "ZeroDivisionError: division by zero")


def test_a_shutdown_in_the_middle_gives_the_job_back(cast, lift, monkeypatch, settings) -> None:
    def told_to_stop(*args: object, **options: object) -> None:
        raise SystemExit

    clip = clip_of(cast, lift)
    monkeypatch.setattr(making, "process", told_to_stop)
    job = jobs.enqueue(clip)
    with pytest.raises(SystemExit):
        making.attempt(job.pk)
    job.refresh_from_db()
    assert (job.state, job.attempts) == (JobState.QUEUED, 0)
    assert everything(Path(settings.MEDIA_WORK_DIR)) == set()


def test_who_lost_the_lease_publishes_nothing(cast, lift) -> None:
    clip = clip_of(cast, lift)
    late = jobs.take(jobs.enqueue(clip).pk, "late")
    MediaJob.objects.update(due_at=timezone.now() - timedelta(seconds=1))
    jobs.take(late.pk, "now")
    with pytest.raises(LostLease):
        publishing.publish(late, {"frames": 3})
    clip.refresh_from_db()
    assert (clip.state, clip.frames) == (ClipState.PROCESSING, None)


def test_publishing_a_playable_clip_keeps_its_frame_table(cast, lift) -> None:
    clip = clip_of(cast, lift)
    made(clip)
    MediaJob.objects.update(
        state=JobState.RUNNING, holder="again", due_at=timezone.now() + timedelta(minutes=1)
    )
    publishing.publish(MediaJob.objects.get(), {"frames": 3})
    clip.refresh_from_db()
    assert clip.frames == 15
    assert MediaJob.objects.get().state == JobState.DONE


def test_a_clip_removed_while_it_is_made_leaves_no_files(
    cast, lift, monkeypatch, settings, django_capture_on_commit_callbacks
) -> None:
    clip = clip_of(cast, lift)
    real = making.process

    def slow(*args, **options):
        result = real(*args, **options)
        with django_capture_on_commit_callbacks(execute=True):
            Clip.objects.get(pk=clip.pk).delete()
        return result

    monkeypatch.setattr(making, "process", slow)
    making.attempt(jobs.enqueue(clip).pk)
    assert everything(Path(settings.MEDIA_ROOT)) == set()
    assert everything(Path(settings.MEDIA_WORK_DIR)) == set()


def test_files_go_with_the_last_clip_of_the_same_bytes(
    cast, lift, settings, django_capture_on_commit_callbacks
) -> None:
    first, second = clip_of(cast, lift), clip_of(cast, lift)
    made(first)
    made(second)
    with django_capture_on_commit_callbacks(execute=True):
        first.submission.delete()
    assert default_storage.exists(f"{second.derived_folder}/playable.mp4")
    assert default_storage.exists(second.original)
    with django_capture_on_commit_callbacks(execute=True):
        second.submission.delete()
    assert everything(Path(settings.MEDIA_ROOT)) == set()


def test_what_a_killed_worker_left_goes_and_what_is_in_use_stays(cast, lift, settings) -> None:
    job = jobs.take(jobs.enqueue(clip_of(cast, lift)).pk, "alive")
    work, staging = Path(settings.MEDIA_WORK_DIR), publishing.staging_folder()
    for parent in (work, staging):
        for holder in ("alive", "dead"):
            (parent / holder / "out").mkdir(parents=True)
    making.clear_leftovers()
    assert {path.name for path in (*work.iterdir(), *staging.iterdir())} == {job.holder}
    MediaJob.objects.update(due_at=timezone.now() - timedelta(seconds=1))
    making.clear_leftovers()
    assert [*work.iterdir(), *staging.iterdir()] == []


class Remote(FileSystemStorage):
    """A storage without paths, as an object store is; names are its own to choose."""

    def path(self, name: str) -> str:
        raise NotImplementedError

    def _local(self, name: str) -> str:
        return str(Path(self.location) / name)

    def open(self, name, mode="rb"):
        return open(self._local(name), mode)

    def exists(self, name: str) -> bool:
        return Path(self._local(name)).exists()

    def size(self, name: str) -> int:
        return Path(self._local(name)).stat().st_size

    def delete(self, name: str) -> None:
        Path(self._local(name)).unlink()

    def save(self, name, content, max_length=None):
        name = self.get_available_name(name)
        Path(self._local(name)).parent.mkdir(parents=True, exist_ok=True)
        Path(self._local(name)).write_bytes(content.read())
        return name


def test_a_storage_that_is_no_folder(cast, lift, settings, tmp_path) -> None:
    away = {"BACKEND": f"{__name__}.Remote", "OPTIONS": {"location": str(tmp_path / "away")}}
    settings.STORAGES = {**settings.STORAGES, "default": away}
    clip = clip_of(cast, lift)
    default_storage.save(
        f"{publishing.derived_folder(clip.sha256, 1)}/poster.jpg", ContentFile(b"")
    )
    made(clip)
    assert clip.state == ClipState.PLAYABLE
    assert clip.made is not None
    for name in clip.made["files"].values():
        assert default_storage.size(f"{clip.derived_folder}/{name}") > 0
    assert everything(Path(settings.MEDIA_WORK_DIR)) == set()


def test_the_lease_is_renewed_while_the_work_says_nothing(
    cast, lift, settings, monkeypatch, tmp_path: Path
) -> None:
    """The lease is a second; the work takes twice that without a word."""
    settings.MEDIA_LEASE_SECONDS = 1
    settings.LIVENESS_FILE = tmp_path / "liveness"
    monkeypatch.setattr("coachdesk.common.leases.LOOK_SECONDS", 0.05)
    job = jobs.take(jobs.enqueue(clip_of(cast, lift)).pk, "a")
    with jobs.renewer(job) as lease:
        lease.progress(0.25)
        time.sleep(2.2)
        assert jobs.take(job.pk, "b") is None
        lease.progress(0.5)
        time.sleep(0.5)
    job.refresh_from_db()
    assert (job.progress, job.holder) == (0.5, "a")
    assert settings.LIVENESS_FILE.exists(), "a watcher would take the worker for stuck"


@pytest.mark.parametrize("how", ["taken", "silent"])
def test_a_lost_lease_stops_the_work(cast, lift, settings, monkeypatch, how: str) -> None:
    settings.MEDIA_LEASE_SECONDS = 0.4
    monkeypatch.setattr("coachdesk.common.leases.LOOK_SECONDS", 0.05)
    job = jobs.take(jobs.enqueue(clip_of(cast, lift)).pk, "a")
    if how == "taken":
        MediaJob.objects.update(holder="b")
    else:  # the database is away for longer than the lease

        def away(*args: object) -> bool:
            raise DatabaseError("away")

        monkeypatch.setattr(jobs, "renew", away)
    with jobs.renewer(job) as lease:
        lease.progress(0.1)
        with pytest.raises(LostLease):
            work_on(lease)


def work_on(lease: LeaseRenewer) -> None:
    """At most 10 s, with a word now and then."""
    for _ in range(200):
        time.sleep(0.05)
        lease.progress(0.2)
