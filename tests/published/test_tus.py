"""The rules of the tus resumable upload protocol 1.0.0 (2016-03-25), against the real server.

Source: the specification, https://tus.io/protocols/resumable-upload; each test names its section.
The last tests use tuspy, a client that knows nothing of us.
"""

import base64
import hashlib
import io
import time
from collections.abc import Iterator
from email.utils import parsedate_to_datetime

import pytest
from tusclient.client import TusClient

from tests.reviews.intake.site import Site, metadata
from tests.reviews.intake.tusraw import BYTES, Raw, sha1

MOST = 5 * 1024**2
pytestmark = pytest.mark.xdist_group("tus")  # one server


@pytest.fixture(scope="module")
def site(tmp_path_factory) -> Iterator[Site]:
    site = Site(tmp_path_factory.mktemp("tus"), upload_max_bytes=MOST).prepare().start()
    yield site
    site.end()


@pytest.fixture
def raw(site: Site) -> Iterator[Raw]:
    yield Raw(site)
    site.clear()


def test_options_tells_versions_extensions_and_limits(raw: Raw) -> None:  # "OPTIONS"
    for path in ("/uploads/", raw.new(1)):
        response = raw.site.ask("OPTIONS", path)
        assert response.status in {200, 204}
        assert "1.0.0" in response.headers["Tus-Version"].split(",")
        told = set(response.headers["Tus-Extension"].split(","))
        assert told == {
            "creation", "creation-with-upload", "checksum", "expiration", "termination"
        }  # fmt: skip
        assert response.headers["Tus-Max-Size"] == str(MOST)
        assert "sha1" in response.headers["Tus-Checksum-Algorithm"].split(",")  # "Checksum"


@pytest.mark.parametrize("version", ["", "0.2.2", "2.0.0"])
def test_another_version_is_refused_and_nothing_happens(raw: Raw, version: str) -> None:
    """ "Tus-Version": 412, with the versions the server speaks, and no processing."""
    path = raw.new(3)
    response = raw.patch(path, 0, b"abc", Tus_Resumable=version)
    assert response.status == 412
    assert response.headers["Tus-Version"] == "1.0.0"
    assert raw.offset(path) == 0


def test_head_tells_where_it_stands_and_is_never_cached(raw: Raw) -> None:  # "HEAD"
    path = raw.new(10)
    raw.patch(path, 0, b"1234")
    response = raw.ask("HEAD", path)
    assert response.status in {200, 204}
    assert response.headers["Upload-Offset"] == "4"
    assert response.headers["Upload-Length"] == "10"
    assert response.headers["Cache-Control"] == "no-store"
    assert response.headers["Tus-Resumable"] == "1.0.0"


def test_head_of_nothing_is_not_found_and_tells_no_offset(raw: Raw) -> None:  # "HEAD"
    response = raw.ask("HEAD", "/uploads/00000000-0000-4000-8000-000000000000")
    assert response.status in {403, 404, 410}
    assert "Upload-Offset" not in response.headers
    assert response.headers["Tus-Resumable"] == "1.0.0"


def test_patch_answers_the_new_offset(raw: Raw) -> None:  # "PATCH"
    path = raw.new(11)
    first = raw.patch(path, 0, b"hello ")
    assert (first.status, first.headers["Upload-Offset"]) == (204, "6")
    second = raw.patch(path, 6, b"world")
    assert (second.status, second.headers["Upload-Offset"]) == (204, "11")
    assert raw.site.original(path) == b"hello world"


@pytest.mark.parametrize("wrong", [1, 5, 11])
def test_patch_at_another_offset_conflicts_and_changes_nothing(raw: Raw, wrong: int) -> None:
    path = raw.new(11)  # "PATCH"
    raw.patch(path, 0, b"hello ")
    assert raw.patch(path, wrong, b"world").status == 409
    assert raw.offset(path) == 6


def test_patch_of_another_type_is_unsupported(raw: Raw) -> None:  # "PATCH"
    path = raw.new(3)
    assert raw.patch(path, 0, b"abc", Content_Type="application/octet-stream").status == 415
    assert raw.offset(path) == 0


def test_patch_of_nothing_is_not_found(raw: Raw) -> None:  # "PATCH"
    assert raw.patch("/uploads/00000000-0000-4000-8000-000000000000", 0, b"a").status == 404


def test_more_bytes_than_announced_are_refused(raw: Raw) -> None:
    """The specification leaves the status open; ours is 413."""
    path = raw.new(3)
    assert raw.patch(path, 0, b"abcd").status == 413
    assert raw.offset(path) == 0


def test_a_chunked_body_is_asked_for_its_length(raw: Raw) -> None:
    """RFC 9110, 15.5.12. Under WSGI such a body reads as empty, which would pass for done."""
    path = raw.new(3)
    response = raw.ask(
        "PATCH", path, {**BYTES, "Upload-Offset": "0", "Transfer-Encoding": "chunked"},
        body=iter([b"abc"]),
    )  # fmt: skip
    assert response.status == 411
    assert raw.offset(path) == 0


def test_the_method_may_be_overridden(raw: Raw) -> None:  # "X-HTTP-Method-Override"
    path = raw.new(3)
    headers = {**BYTES, "Upload-Offset": "0", "X-HTTP-Method-Override": "PATCH"}
    response = raw.ask("POST", path, headers, b"abc")
    assert (response.status, response.headers["Upload-Offset"]) == (204, "3")


def test_creation_gives_a_place(raw: Raw) -> None:  # "Creation"
    response = raw.create(100)
    assert response.status == 201
    assert response.headers["Tus-Resumable"] == "1.0.0"
    assert raw.offset(response.headers["Location"]) == 0


@pytest.mark.parametrize("length", ["-1", "ten", "1.5", ""])
def test_creation_needs_a_length(raw: Raw, length: str) -> None:  # "Creation"
    assert raw.create(0, **{"Upload-Length": length}).status == 400


def test_creation_beyond_the_maximum_is_too_large(raw: Raw) -> None:  # "Creation"
    response = raw.create(MOST + 1)
    assert response.status == 413
    assert "a clip can be 5\N{NO-BREAK SPACE}MB at most" in response.text


def test_head_echoes_the_metadata(raw: Raw) -> None:  # "Upload-Metadata"
    clip = raw.site.clip()
    told = metadata(clip, "squat.mp4")
    assert told.endswith("filename c3F1YXQubXA0")  # base64 of squat.mp4, RFC 4648 section 4
    path = raw.ask("POST", "/uploads/", {"Upload-Length": "5", "Upload-Metadata": told}).headers[
        "Location"
    ]
    assert raw.ask("HEAD", path).headers["Upload-Metadata"] == told


def test_the_first_bytes_may_come_with_the_creation(raw: Raw) -> None:  # "Creation With Upload"
    response = raw.create(11, body=b"hello ")
    assert (response.status, response.headers["Upload-Offset"]) == (201, "6"), response.text
    path = response.headers["Location"]
    assert raw.offset(path) == 6
    whole = raw.create(5, body=b"world")
    assert (whole.status, whole.headers["Upload-Offset"]) == (201, "5")
    assert raw.site.original(whole.headers["Location"]) == b"world"


@pytest.mark.parametrize("algorithm", ["sha1", "sha256", "md5"])
def test_a_right_checksum_passes(raw: Raw, algorithm: str) -> None:  # "Checksum"
    body = b"hello world"
    value = base64.b64encode(hashlib.new(algorithm, body).digest()).decode()
    path = raw.new(11)
    response = raw.patch(path, 0, body, Upload_Checksum=f"{algorithm} {value}")
    assert (response.status, response.headers["Upload-Offset"]) == (204, "11")
    assert raw.site.original(path) == body


def test_the_specifications_own_checksum(raw: Raw) -> None:
    """ "Checksum", example: sha1 of "hello world"."""
    path = raw.new(11)
    given = "sha1 Kq5sNclPz7QV2+lfQIuc6R7oRu0="
    assert raw.patch(path, 0, b"hello world", Upload_Checksum=given).status == 204


def test_a_wrong_checksum_is_460_and_nothing_is_kept(raw: Raw) -> None:  # "Checksum"
    path = raw.new(11)
    raw.patch(path, 0, b"hello ")
    response = raw.patch(path, 6, b"wormd", Upload_Checksum=sha1(b"world"))
    assert response.status == 460
    assert raw.offset(path) == 6
    assert raw.patch(path, 6, b"world", Upload_Checksum=sha1(b"world")).status == 204
    assert raw.site.original(path) == b"hello world"


def test_an_unknown_checksum_is_a_bad_request(raw: Raw) -> None:  # "Checksum"
    path = raw.new(3)
    assert raw.patch(path, 0, b"abc", Upload_Checksum="crc32 NSRBwg==").status == 400
    assert raw.offset(path) == 0


def test_every_answer_tells_when_it_expires(raw: Raw) -> None:  # "Expiration"
    created = raw.create(11)
    told = [created, raw.patch(created.headers["Location"], 0, b"hello ")]
    for response in told:
        left = parsedate_to_datetime(response.headers["Upload-Expires"]).timestamp() - time.time()
        assert 71 * 3600 < left <= 72 * 3600


def test_an_expired_upload_is_gone(raw: Raw) -> None:  # "Expiration"
    path = raw.new(3)
    past = "from datetime import timedelta as d;from django.utils.timezone import now;"
    expire = "from reviews.models import Upload;Upload.objects.update(expires_at=now()-d(hours=1))"
    raw.site.manage("shell", "-v0", "-c", past + expire)
    assert raw.ask("HEAD", path).status in {404, 410}
    assert raw.patch(path, 0, b"abc").status in {404, 410}


def test_a_terminated_upload_is_gone_with_its_bytes(raw: Raw) -> None:  # "Termination"
    path = raw.new(11)
    raw.patch(path, 0, b"hello ")
    kept = raw.site.data / "uploads" / path.rsplit("/", 1)[-1].replace("-", "")
    assert kept.stat().st_size == 6
    response = raw.ask("DELETE", path)
    assert response.status == 204
    assert response.headers["Tus-Resumable"] == "1.0.0"
    assert not kept.exists()
    assert raw.ask("HEAD", path).status in {404, 410}
    assert raw.patch(path, 6, b"world").status in {404, 410}


def test_an_upload_belongs_to_its_owner(raw: Raw) -> None:
    """Ours: a foreign upload or clip does not exist, and a page of another site cannot send."""
    path = raw.new(3)
    other = Raw(raw.site, "joris")
    assert other.ask("HEAD", path).status == 404
    assert other.patch(path, 0, b"abc").status == 404
    assert other.ask("DELETE", path).status == 404
    assert other.create(3, clip=raw.site.clip("mira")).status == 404
    assert raw.patch(path, 0, b"abc", X_CSRFToken="").status == 403
    assert raw.patch(path, 0, b"abc", Cookie="").status == 401
    assert raw.offset(path) == 0


@pytest.mark.parametrize("checksum", [False, True])
@pytest.mark.parametrize("chunk", [7_000, 1_000_000])
def test_tuspy_uploads(raw: Raw, chunk: int, checksum: bool) -> None:
    body = bytes(range(256)) * 600
    headers = raw.site.signed_in("mira")
    client = TusClient(f"{raw.site.url}/uploads/", headers=headers)
    clip = raw.site.clip()
    told = {"clip": clip, "filename": "squat.mp4"}
    uploader = client.uploader(
        file_stream=io.BytesIO(body), chunk_size=chunk, metadata=told, upload_checksum=checksum
    )
    uploader.upload()
    assert raw.site.original(uploader.url) == body
    assert raw.offset(uploader.url.removeprefix(raw.site.url)) == len(body)
    assert raw.site.card(clip)["state"] == "processing"


def test_tuspy_resumes(raw: Raw) -> None:
    body = bytes(range(256)) * 600
    client = TusClient(f"{raw.site.url}/uploads/", headers=raw.site.signed_in("mira"))
    told = {"clip": raw.site.clip(), "filename": "squat.mp4"}
    first = client.uploader(file_stream=io.BytesIO(body), chunk_size=10_000, metadata=told)
    first.upload(stop_at=50_000)
    again = client.uploader(file_stream=io.BytesIO(body), chunk_size=10_000, url=first.url)
    assert again.offset == 50_000
    again.upload()
    assert raw.site.original(first.url) == body
