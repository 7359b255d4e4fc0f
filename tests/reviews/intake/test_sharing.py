"""One person's uploads leave room for everybody else's."""

from contextlib import ExitStack

import pytest
from django.test import Client

from reviews.intake import uploads
from reviews.intake.models import Clip
from reviews.intake.sharing import UPLOADS_OF_PERSON, TooMany, one_of_few
from reviews.intake.submitting import open_draft
from tests.conftest import Cast


def test_a_person_has_a_few_at_a_time() -> None:
    with ExitStack() as stack:
        for _ in range(UPLOADS_OF_PERSON):
            stack.enter_context(one_of_few(1))
        with pytest.raises(TooMany), one_of_few(1):
            pass
        with one_of_few(2):
            pass
    with one_of_few(1):
        pass


def test_one_more_is_asked_to_come_again(client: Client, cast: Cast) -> None:
    clip = Clip.objects.create(submission=open_draft(athlete=cast.athlete))
    upload = uploads.begin(
        owner=cast.athlete, clip_id=clip.pk, length=5, filename="set.mp4", metadata=""
    )
    client.force_login(cast.athlete)
    headers = {"Tus-Resumable": "1.0.0", "Upload-Offset": "0"}

    def send() -> object:
        kind = "application/offset+octet-stream"
        return client.patch(f"/uploads/{upload.pk}", b"hello", kind, headers=headers)

    with ExitStack() as stack:
        for _ in range(UPLOADS_OF_PERSON):
            stack.enter_context(one_of_few(cast.athlete.pk))
        refused = send()
    assert refused.status_code == 429
    assert refused.headers["Retry-After"] == "5"
    assert "goes on after" in refused.json()["detail"]
    assert send().headers["Upload-Offset"] == "5"
