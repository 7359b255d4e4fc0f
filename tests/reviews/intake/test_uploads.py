"""Beginning, finishing and dropping uploads, without a server in between."""

import base64
import hashlib
import io
import os
import threading
import time
from collections.abc import Callable
from contextlib import suppress
from datetime import timedelta
from pathlib import Path

import pytest
from django.conf import settings
from django.core.files.storage import default_storage
from django.db import connection
from django.utils.timezone import now
from hypothesis import HealthCheck, given
from hypothesis import settings as hypothesis
from hypothesis import strategies as st

from reviews.intake import clips, finishing, submitting, uploads
from reviews.intake.models import Clip, MediaJob, Upload
from reviews.intake.partial import Partial, TakenOver
from reviews.intake.receiving import DiskFull, Mismatch


@pytest.fixture
def clip(transactional_db, cast) -> Clip:
    """Files follow rows on commit, so these tests commit."""
    draft = submitting.open_draft(athlete=cast.athlete)
    return clips.add_clip(submission=draft, unit="kg")


def begin(clip: Clip, length: int, filename: str = "set.MOV") -> Upload:
    owner = clip.submission.athlete
    return uploads.begin(
        owner=owner, clip_id=clip.pk, length=length, filename=filename, metadata="told"
    )


def receive(upload: Upload, body: bytes, at: int = 0) -> int:
    offset = uploads.receive(upload, io.BytesIO(body), at=at, length=len(body), checked=None)
    uploads.finish_if_whole(upload)
    return offset


def test_the_last_byte_makes_an_original_and_a_job(clip: Clip) -> None:
    upload = begin(clip, 11)
    receive(upload, b"hello world")
    clip.refresh_from_db()
    assert clip.state == "processing"
    assert clip.original == f"originals/{upload.pk.hex[:2]}/{upload.pk}.mov"
    # FIPS 180-4; the digest of "hello world" as any sha256sum gives it
    assert clip.sha256 == "b94d27b9934d3e08a52e52d7da7dabfac484efe37a5380ee9088f7ace2efcde9"
    assert default_storage.open(clip.original).read() == b"hello world"
    assert clip.size == 11
    assert MediaJob.objects.get().clip == clip
    assert not list(Path(settings.UPLOAD_DIR).iterdir())


@pytest.mark.parametrize(
    "name", ["x.php", "evil.html", "../../etc/passwd", "noending", "a.MP4.exe"]
)
def test_a_file_name_never_chooses_where_it_lies(clip: Clip, name: str) -> None:
    upload = begin(clip, 1, name)
    receive(upload, b"x")
    clip.refresh_from_db()
    assert clip.original == f"originals/{upload.pk.hex[:2]}/{upload.pk}.bin"


class Killed(Exception):
    """Stands for kill -9: nothing after it runs."""


@pytest.mark.parametrize("step", ["before the move", "after the move"])
@pytest.mark.parametrize("healer", ["head", "sweeper"])
def test_a_kill_between_the_last_byte_and_the_row_is_healed(
    clip: Clip, monkeypatch: pytest.MonkeyPatch, step: str, healer: str
) -> None:
    upload = begin(clip, 5)

    with monkeypatch.context() as patch:
        patch.setattr(finishing, "_hand_over" if step == "after the move" else "_move", _dies)
        with pytest.raises(Killed):
            receive(upload, b"hello")
    clip.refresh_from_db()
    assert clip.state == "receiving"
    upload = Upload.objects.get()
    if healer == "head":
        assert uploads.offset_of(upload) == 5
    else:
        assert uploads.finish_stranded() == 1
    clip.refresh_from_db()
    assert clip.state == "processing"
    assert default_storage.open(clip.original).read() == b"hello"
    assert MediaJob.objects.count() == 1
    assert uploads.finish_stranded() == 0


def _dies(*args: object, **kwargs: object) -> None:
    raise Killed


def test_bytes_that_are_gone_are_gone_and_not_waited_for(clip: Clip) -> None:
    upload = begin(clip, 10)
    receive(upload, b"some")
    Partial(upload.pk).path.unlink()
    with pytest.raises(FileNotFoundError):
        uploads.offset_of(Upload.objects.get())


def test_a_head_while_the_file_moves_hears_that_it_is_whole(
    clip: Clip, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Another connection takes the file away between our look at it and its size."""
    upload = begin(clip, 5)
    uploads.receive(upload, io.BytesIO(b"hello"), at=0, length=5, checked=None)
    theirs, ours = Upload.objects.get(), Upload.objects.get()
    take_turn = Partial.take_turn

    def overtaken(partial: Partial) -> object:
        monkeypatch.setattr(Partial, "take_turn", take_turn)
        turn = partial.take_turn()
        finishing.finish(theirs)
        return turn

    monkeypatch.setattr(Partial, "take_turn", overtaken)
    assert uploads.offset_of(ours) == 5
    assert MediaJob.objects.count() == 1


@pytest.mark.parametrize("first", ["finished", "taken out"])
def test_a_clip_taken_out_as_its_last_byte_arrives_leaves_nothing(
    clip: Clip, monkeypatch: pytest.MonkeyPatch, first: str
) -> None:
    """Whoever is second begins while the first is in the middle of its transaction."""
    upload = begin(clip, 5)
    uploads.receive(upload, io.BytesIO(b"hello"), at=0, length=5, checked=None)
    in_the_middle = threading.Event()
    place = (finishing.jobs, "enqueue") if first == "finished" else (clips, "delete_clip")
    rest = getattr(*place)

    def slowly(clip: Clip) -> None:
        in_the_middle.set()
        time.sleep(0.5)
        rest(clip)

    monkeypatch.setattr(*place, slowly)
    monkeypatch.setattr(
        "coachdesk.common.after_commit.current_app.send_task", lambda *args, **options: None
    )
    errors: list[Exception] = []

    def finish() -> None:
        with suppress(FileNotFoundError):
            finishing.finish(upload)

    def take_out() -> None:
        clips.remove_clip(clip=Clip.objects.get(pk=clip.pk))

    def run(work: Callable[[], None]) -> None:
        try:
            work()
        except Exception as error:  # noqa: BLE001  told below
            errors.append(error)
        finally:
            connection.close()  # the thread's own

    one, other = (finish, take_out) if first == "finished" else (take_out, finish)
    threads = [threading.Thread(target=run, args=[work]) for work in (one, other)]
    threads[0].start()
    assert in_the_middle.wait(10)
    threads[1].start()
    for thread in threads:
        thread.join(30)
    assert errors == []
    assert not Clip.objects.exists()
    assert not MediaJob.objects.exists()
    assert [path for path in Path(settings.MEDIA_ROOT).rglob("*") if path.is_file()] == []


def test_finishing_twice_changes_nothing(clip: Clip) -> None:
    upload = begin(clip, 5)
    receive(upload, b"hello")
    before = Clip.objects.values().get()
    stale = Upload.objects.get()
    stale.finished_at = None
    finishing.finish(stale)
    assert Clip.objects.values().get() == before
    assert MediaJob.objects.count() == 1


def test_a_new_upload_replaces_the_clips_old_one(clip: Clip) -> None:
    first = begin(clip, 100)
    receive(first, b"some of it")
    second = begin(clip, 50)
    assert list(Upload.objects.all()) == [second]
    assert not Partial(first.pk).exists
    with pytest.raises(TakenOver):
        receive(first, b"more", at=10)


def test_a_clip_with_its_video_takes_no_other(clip: Clip) -> None:
    receive(begin(clip, 1), b"x")
    with pytest.raises(uploads.Refused) as no:
        begin(clip, 1)
    assert no.value.status == 409


def test_another_athletes_clip_does_not_exist(clip: Clip, cast) -> None:
    for person in (cast.other_athlete, cast.outsider, cast.coach, cast.owner, cast.stranger):
        with pytest.raises(uploads.Refused) as no:
            uploads.begin(owner=person, clip_id=clip.pk, length=1, filename="", metadata="")
        assert no.value.status == 404


@pytest.mark.parametrize(
    ("length", "status", "words"),
    [
        (0, 400, "This file is empty"),
        (2_001, 413, "a clip can be 2\N{NO-BREAK SPACE}KB at most"),
        (1_500, 413, "you have 1\N{NO-BREAK SPACE}KB left of 3\N{NO-BREAK SPACE}KB"),
    ],
)
def test_limits_are_kept_and_told(
    clip: Clip, settings, length: int, status: int, words: str
) -> None:
    settings.UPLOAD_MAX_BYTES, settings.ATHLETE_QUOTA_BYTES = 2_000, 3_072
    other = clips.add_clip(submission=clip.submission, unit="kg")
    begin(other, 2_000)  # announced, not yet here: it takes its room all the same
    with pytest.raises(uploads.Refused) as no:
        begin(clip, length)
    assert no.value.status == status
    assert words in str(no.value)


def test_an_original_that_was_kept_counts_towards_the_quota(clip: Clip, settings) -> None:
    settings.ATHLETE_QUOTA_BYTES = 100
    receive(begin(clip, 60), bytes(60))
    other = clips.add_clip(submission=clip.submission, unit="kg")
    with pytest.raises(uploads.Refused):
        begin(other, 41)
    assert begin(other, 40)


def test_a_full_disk_keeps_what_it_took(clip: Clip, monkeypatch: pytest.MonkeyPatch) -> None:
    upload = begin(clip, 20)
    receive(upload, b"0123456789")
    write = os.pwrite

    def full(descriptor: int, block: bytes, at: int) -> int:
        if at >= 14:
            raise OSError(28, "No space left on device")  # ENOSPC, errno(3)
        return write(descriptor, block[:4], at)

    with monkeypatch.context() as patch:
        patch.setattr(os, "pwrite", full)
        with pytest.raises(DiskFull):
            receive(upload, b"abcdefghij", at=10)
    assert uploads.offset_of(upload) == 14
    receive(upload, b"efghij", at=14)
    clip.refresh_from_db()
    assert default_storage.open(clip.original).read() == b"0123456789abcdefghij"


def test_what_expired_is_dropped_and_the_sent_clip_says_so(clip: Clip) -> None:
    upload = begin(clip, 20)
    receive(upload, b"half")
    submitting.save_draft(draft=clip.submission, changes={"question": "Why?"})
    submitting.send(draft=clip.submission)
    Upload.objects.update(expires_at=now() - timedelta(minutes=1))
    assert uploads.drop_expired() == 1
    clip.refresh_from_db()
    assert clip.state == "failed"
    assert "Pick it again" in clip.reason
    assert not Upload.objects.exists()
    assert not Partial(upload.pk).exists


def test_a_drafts_clip_just_waits_for_its_video_again(clip: Clip) -> None:
    begin(clip, 20)
    Upload.objects.update(expires_at=now() - timedelta(minutes=1))
    uploads.drop_expired()
    clip.refresh_from_db()
    assert clip.state == "receiving"


def test_files_that_no_row_knows_are_swept_but_not_at_once(clip: Clip) -> None:
    begin(clip, 20)
    orphan = Path(settings.UPLOAD_DIR) / ("0" * 32)
    orphan.write_bytes(b"left behind")
    uploads.drop_expired()
    assert orphan.exists()
    os.utime(orphan, (0, 0))
    uploads.drop_expired()
    assert not orphan.exists()
    assert Partial(Upload.objects.get().pk).exists


Step = st.tuples(st.sampled_from(["plain", "checked", "corrupt", "cut"]), st.integers(1, 40))


@hypothesis(
    max_examples=60,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(steps=st.lists(Step, max_size=12))
def test_the_offset_only_grows_and_is_always_a_prefix(
    clip: Clip, steps: list[tuple[str, int]]
) -> None:
    body = bytes(range(250))
    upload = begin(clip, 251)
    offset = 0
    for kind, size in steps:
        part = body[offset : offset + size]
        turn = {"at": offset, "length": len(part) + (5 if kind == "cut" else 0), "checked": None}
        if kind in {"checked", "corrupt"}:
            wrong = b"" if kind == "checked" else b"!"
            turn["checked"] = (hashlib.sha1(), hashlib.sha1(part + wrong).digest())
        try:
            reached = uploads.receive(upload, io.BytesIO(part), **turn)
        except Mismatch:
            assert kind == "corrupt"
            reached = offset
        assert reached == (offset if kind == "corrupt" else offset + len(part))
        assert Partial(upload.pk).path.read_bytes() == body[:reached]
        assert uploads.offset_of(upload) == reached >= offset
        offset = reached


def test_metadata_with_a_foreign_value_is_refused(client, cast) -> None:
    client.force_login(cast.athlete)
    told = f"clip {base64.b64encode(b'no uuid').decode()}"
    headers = {"Tus-Resumable": "1.0.0", "Upload-Length": "5", "Upload-Metadata": told}
    response = client.post("/uploads/", headers=headers, content_type="")
    assert response.status_code == 400
