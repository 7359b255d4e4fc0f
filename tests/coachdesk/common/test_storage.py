"""Clips in an S3-compatible storage: rclone's server, another program than the client's makers'."""

import hashlib
import json
from collections.abc import Iterator

import pytest
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.test import Client
from django.utils.timezone import now

from coachdesk.common.storage import storage_settings
from reviews.intake import jobs, making
from reviews.intake.clip_data import media_url, table_at_hand
from reviews.intake.models import Clip, ClipState, State, Submission
from tests import s3
from tests.faults.ground import free_port


@pytest.fixture(scope="module")
def bucket(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    with s3.server(tmp_path_factory.mktemp("s3"), free_port()) as url:
        yield url


@pytest.fixture
def stored(bucket: str, settings) -> None:
    settings.STORAGES = {**settings.STORAGES, "default": storage_settings(bucket)}


def test_an_address_says_all_or_is_refused() -> None:
    given = storage_settings("s3://KEY:s%2Fecret@store.example:9000/clips?tls=no&region=eu-north-1")
    assert given["OPTIONS"] == {
        "endpoint_url": "http://store.example:9000",
        "bucket_name": "clips",
        "access_key": "KEY",
        "secret_key": "s/ecret",
        "region_name": "eu-north-1",
    }
    assert storage_settings("")["BACKEND"].endswith("FileSystemStorage")
    for wrong in ("http://store.example/clips", "s3://store.example/clips", "s3://KEY:s@host"):
        with pytest.raises(ValueError, match="COACHDESK_STORAGE_URL"):
            storage_settings(wrong)


def test_what_the_code_asks_of_a_storage(stored) -> None:
    content = bytes(n % 251 for n in range(100_000))
    assert default_storage.save("derived/ab/x.bin", ContentFile(content)) == "derived/ab/x.bin"
    assert default_storage.size("derived/ab/x.bin") == 100_000
    with default_storage.open("derived/ab/x.bin") as file:
        file.seek(70_000)
        assert file.read(10) == content[70_000:70_010]
        assert file.tell() == 70_010
        file.seek(0)
        assert file.read() == content
    assert default_storage.listdir("derived/ab")[1] == ["x.bin"]
    assert default_storage.save("derived/ab/x.bin", ContentFile(b"2")) != "derived/ab/x.bin"
    default_storage.delete("derived/ab/x.bin")
    assert not default_storage.exists("derived/ab/x.bin")
    for ask in (default_storage.size, default_storage.open):
        with pytest.raises(FileNotFoundError):
            ask("derived/ab/x.bin")


@pytest.mark.django_db(transaction=True)  # the lease is renewed from a thread of its own
def test_a_clip_is_made_and_served_from_there(cast, stored, short_lift: bytes, monkeypatch) -> None:
    monkeypatch.setattr(
        "coachdesk.common.after_commit.current_app.send_task", lambda *args, **options: None
    )
    submission = Submission.objects.create(
        club=cast.athlete.club, athlete=cast.athlete, state=State.WAITING, sent_at=now()
    )
    clip = Clip.objects.create(
        submission=submission,
        original=default_storage.save("originals/lift", ContentFile(short_lift)),
        sha256=hashlib.sha256(short_lift).hexdigest(),
        size=len(short_lift),
    )
    making.attempt(jobs.enqueue(clip).pk)
    clip.refresh_from_db()
    assert clip.state == ClipState.PLAYABLE, clip.reason
    client = Client()
    client.force_login(cast.coach)
    whole = b"".join(client.get(media_url(clip, "playable")).streaming_content)
    part = client.get(media_url(clip, "playable"), headers={"Range": "bytes=100-199"})
    assert part.status_code == 206
    assert b"".join(part.streaming_content) == whole[100:200]
    frames = json.loads(b"".join(client.get(media_url(clip, "frames")).streaming_content))
    assert frames
    assert table_at_hand(clip) is None, "a page does not wait for a storage elsewhere"
    name = clip.original
    clip.delete()
    assert not default_storage.exists(name)
    assert default_storage.listdir(clip.derived_folder) == ([], [])
