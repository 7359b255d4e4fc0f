"""The door to a clip's files: who, what, and that nothing in it can act as a page."""

import pytest
from django.core.files.base import ContentFile
from django.core.files.storage import FileSystemStorage, default_storage
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from athletes.tokens.services import issue_token
from reviews.intake.clip_data import media_url
from reviews.intake.models import Clip, ClipState, State, Submission

pytestmark = pytest.mark.django_db

FILES = {
    "playable": "playable.mp4",
    "poster": "poster.jpg",
    "filmstrip": "filmstrip.jpg",
    "frames": "frames.json",
    "waveform": "waveform.json",
    "original": "original-clean.mov",
}
TYPES = {
    "playable": "video/mp4",
    "poster": "image/jpeg",
    "filmstrip": "image/jpeg",
    "frames": "application/json",
    "waveform": "application/json",
    "original": "video/quicktime",
}


@pytest.fixture
def clip(cast) -> Clip:
    """A playable clip of a sent submission; each file holds its own kind, 100 times."""
    submission = Submission.objects.create(
        club=cast.athlete.club, athlete=cast.athlete, state=State.WAITING, sent_at=timezone.now()
    )
    clip = Clip.objects.create(
        submission=submission,
        sha256="ab" * 32,
        original="originals/with-place.mov",
        filename='Kniebeuge "März".MOV',
        state=ClipState.PLAYABLE,
        recipe=1,
        frames=3,
        made={"files": FILES},
    )
    default_storage.save(clip.original, ContentFile(b"where the athlete lives"))
    for kind, name in FILES.items():
        default_storage.save(f"{clip.derived_folder}/{name}", ContentFile(kind.encode() * 100))
    return clip


def get(user, address: str, **headers: str):
    client = Client()
    if user:
        client.force_login(user)
    return client.get(address, headers=headers)


def body(response) -> bytes:
    return b"".join(response.streaming_content)


@pytest.mark.parametrize("kind", list(FILES))
@pytest.mark.parametrize(
    ("who", "status"),
    [
        ("athlete", 200),
        ("coach", 200),
        ("second_coach", 200),
        ("owner", 200),
        ("other_athlete", 404),
        ("stranger", 404),
        ("outsider", 404),
    ],
)
def test_who_may_see_it(cast, clip, kind: str, who: str, status: int) -> None:
    response = get(getattr(cast, who), media_url(clip, kind))
    assert response.status_code == status
    if status == 200:
        assert body(response) == kind.encode() * 100
        assert response["Content-Type"] == TYPES[kind]


def test_signed_out_is_refused(clip) -> None:
    response = get(None, media_url(clip, "playable"))
    assert response.status_code == 401
    assert response["Content-Type"] == "application/problem+json"


def test_a_token_opens_it_within_its_scope(cast, clip) -> None:
    for scope, status in [("submissions:read", 206), ("reviews:read", 403)]:
        _, secret = issue_token(user=cast.athlete, name=scope, scopes=[scope], days=1)
        said = {"Authorization": f"Bearer {secret}", "Accept": "video/mp4", "Range": "bytes=0-7"}
        assert get(None, media_url(clip, "playable"), **said).status_code == status


def test_a_coach_sees_no_draft(cast, clip) -> None:
    Submission.objects.update(state=State.DRAFT)
    assert get(cast.coach, media_url(clip, "playable")).status_code == 404
    assert get(cast.athlete, media_url(clip, "playable")).status_code == 200


def test_asked_at_each_request(cast, clip) -> None:
    client = Client()
    client.force_login(cast.coach)
    tag = client.get(media_url(clip, "playable"))["ETag"]
    cast.coach.club = cast.stranger.club
    cast.coach.save()
    again = client.get(media_url(clip, "playable"), headers={"If-None-Match": tag})
    assert again.status_code == 404


@pytest.mark.parametrize("kind", ["nothing", "made", "..", "playable.mp4"])
def test_no_other_file(cast, clip, kind: str) -> None:
    assert get(cast.athlete, f"/media/clips/{clip.pk}/{kind}").status_code == 404


def test_not_before_it_is_playable(cast, clip) -> None:
    Clip.objects.update(state=ClipState.PROCESSING)
    assert get(cast.athlete, media_url(clip, "playable")).status_code == 404


def test_a_file_that_is_gone(cast, clip) -> None:
    default_storage.delete(f"{clip.derived_folder}/waveform.json")
    assert get(cast.athlete, media_url(clip, "waveform")).status_code == 404
    Clip.objects.update(made={"files": {"playable": "playable.mp4"}})  # a clip without sound
    assert get(cast.athlete, media_url(clip, "waveform")).status_code == 404


@pytest.mark.parametrize("kind", list(FILES))
def test_nothing_in_it_can_act_as_a_page(cast, clip, kind: str) -> None:
    response = get(cast.athlete, media_url(clip, kind))
    assert response["X-Content-Type-Options"] == "nosniff"
    policy = [part.strip() for part in response["Content-Security-Policy"].split(";")]
    assert "sandbox" in policy
    assert "default-src 'none'" in policy
    assert not [part for part in policy if "script" in part or "unsafe" in part]
    assert response["Cross-Origin-Resource-Policy"] == "same-origin"
    assert ("attachment" in response.get("Content-Disposition", "")) == (kind == "original")


def test_the_download_is_the_cleaned_copy_under_the_athletes_name(cast, clip) -> None:
    response = get(cast.coach, media_url(clip, "original"))
    assert body(response) == b"original" * 100
    # RFC 8187, section 3.2: a name outside of ASCII is sent as filename*, percent-encoded UTF-8.
    assert response["Content-Disposition"] == (
        "attachment; filename*=utf-8''Kniebeuge%20%22M%C3%A4rz%22.mov"
    )


def test_parts_and_tags_through_the_whole_stack(cast, clip) -> None:
    address = media_url(clip, "playable")
    part = get(cast.athlete, address, Range="bytes=8-15")
    assert (part.status_code, body(part)) == (206, b"playable")
    assert part["Content-Range"] == "bytes 8-15/800"
    assert part["ETag"] == f'"{"ab" * 32}-1-playable"'
    assert get(cast.athlete, address, **{"If-None-Match": part["ETag"]}).status_code == 304
    assert get(cast.athlete, address, Range="bytes=800-").status_code == 416


def test_tags_differ_by_kind_and_recipe(cast, clip) -> None:
    tags = {get(cast.athlete, media_url(clip, kind))["ETag"] for kind in FILES}
    assert len(tags) == len(FILES)


def test_kept_by_the_browser_only_under_an_address_that_names_the_version(cast, clip) -> None:
    plain = reverse("clip-media", args=[clip.pk, "poster"])
    for address, kept in [
        (media_url(clip, "poster"), "private, max-age=31536000, immutable"),
        (plain, "private, no-cache"),
        (plain + "?v=old", "private, no-cache"),
    ]:
        response = get(cast.athlete, address)
        assert response["Cache-Control"] == kept
        assert "Cookie" in response["Vary"], "another person at the same browser asks again"


def test_head(cast, clip, monkeypatch) -> None:
    client = Client()
    client.force_login(cast.athlete)

    def opened(*args: object) -> None:
        raise AssertionError("HEAD opens no file")

    monkeypatch.setattr(FileSystemStorage, "open", opened)
    response = client.head(media_url(clip, "playable"))
    assert (response.status_code, response.content) == (200, b"")
    assert response["Content-Length"] == "800"


@pytest.mark.parametrize("method", ["post", "put", "patch", "delete"])
def test_read_only(cast, clip, method: str) -> None:
    client = Client()
    client.force_login(cast.athlete)
    assert getattr(client, method)(media_url(clip, "playable")).status_code == 405


def test_the_front_is_told_where_the_file_is_and_nothing_else_changes(cast, clip, settings) -> None:
    """X-Accel-Redirect, for what is allowed only; a range that we ignore is sent from here."""
    settings.FRONT_SENDS_MEDIA = True
    address = media_url(clip, "playable")
    plain = get(cast.athlete, address)
    where = f"/-/files/{clip.derived_folder}/playable.mp4"
    assert (plain.status_code, plain["X-Accel-Redirect"], plain.content) == (200, where, b"")
    assert get(cast.athlete, address, Range="bytes=0-9")["X-Accel-Redirect"] == where
    assert "X-Accel-Redirect" not in get(cast.athlete, address, Range="bytes=0-1,5-6")
    assert get(cast.athlete, address, Range="bytes=9999-").status_code == 416
    not_modified = get(cast.athlete, address, **{"If-None-Match": plain["ETag"]})
    assert not_modified.status_code == 304
    refused = get(cast.stranger, address)
    assert refused.status_code == 404
    assert "X-Accel-Redirect" not in refused
