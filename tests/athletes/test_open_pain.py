"""Pain that is reported and not closed stands on every page that plans or loads training."""

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from athletes.models import PainReport
from athletes.selectors import open_pain_of
from tests.conftest import Cast
from tests.programming.corrections import ground
from tests.reviews.replies.rows import a_clip, a_note, a_submission

pytestmark = pytest.mark.django_db
CAUTION = "loss of bladder or bowel control"


def report(cast: Cast, where: str = "Left knee", **facts: Any) -> PainReport:
    return PainReport.objects.create(
        **{"athlete": cast.athlete, "where": where, "score": 4, "since": "Monday", **facts}
    )


def correction_page(cast: Cast) -> str:
    note = a_note(cast.coach, a_clip(a_submission(cast.athlete), movement=ground.movement()))
    return reverse("correction", args=[note.clip.submission_id, note.pk])


def grid(cast: Cast) -> str:
    return reverse("programme-grid", args=[ground.programme(cast.athlete, date(2026, 11, 30)).pk])


def session(cast: Cast) -> str:
    return reverse("training")


PAGES: list[tuple[str, Callable[[Cast], str]]] = [
    ("coach", correction_page),
    ("coach", grid),
    ("athlete", session),
    ("athlete", lambda cast: reverse("athlete-home")),
    ("athlete", lambda cast: reverse("my-load")),
    ("coach", lambda cast: reverse("athlete-load", args=[cast.athlete.pk])),
]
NAMES = ["correction", "grid", "session", "today", "own load", "load"]
on_every_page = pytest.mark.parametrize(("role", "page"), PAGES, ids=NAMES)


def opened(cast: Cast, role: str) -> Client:
    client = Client()
    client.force_login(getattr(cast, role))
    return client


@on_every_page
def test_open_pain_is_shown_with_the_caution_until_it_is_closed(
    cast: Cast, role: str, page: Callable[[Cast], str]
) -> None:
    hurt = report(cast)
    client, url = opened(cast, role), page(cast)
    body = client.get(url).content.decode()
    assert "Left knee" in body
    assert CAUTION in body
    client.post(reverse("pain-close", args=[hurt.pk]), {"next": url})
    closed = client.get(url).content.decode()  # shows the message that says it is closed
    closed = client.get(url).content.decode()
    assert 'class="say pain open-pain"' not in closed


@on_every_page
def test_a_draft_and_somebody_elses_pain_are_not_shown(
    cast: Cast, role: str, page: Callable[[Cast], str]
) -> None:
    report(cast, "Draft shoulder", reported_at=None)
    report(cast, "Other elbow", athlete=cast.other_athlete)
    body = opened(cast, role).get(page(cast)).content.decode()
    assert "Draft shoulder" not in body
    assert "Other elbow" not in body


def test_a_warning_sign_is_named(cast: Cast) -> None:
    report(cast, signs=["night"])
    body = opened(cast, "athlete").get(reverse("training")).content.decode()
    assert "Warning sign." in body
    assert "wakes you at night" in body


def test_it_takes_one_statement_however_many_there_are(cast: Cast) -> None:
    for where in ("Knee", "Hip", "Neck"):
        report(cast, where)
    with CaptureQueriesContext(connection) as captured:
        assert len(open_pain_of(cast.athlete, viewer=cast.coach)) == 3
    assert len(captured) == 1


def test_closing_says_who_and_when_and_can_be_undone(cast: Cast) -> None:
    hurt = report(cast)
    opened(cast, "athlete").post(reverse("pain-close", args=[hurt.pk]))
    opened(cast, "coach").post(reverse("pain-close", args=[hurt.pk]))
    hurt.refresh_from_db()
    assert hurt.closed_by == cast.athlete, "the first one counts"
    coach = opened(cast, "coach")
    page = reverse("person", args=[cast.athlete.pk])
    assert f"by {cast.athlete.name}" in coach.get(page).content.decode()
    answer = coach.post(reverse("pain-reopen", args=[hurt.pk]), {"next": page})
    assert answer.url == page
    hurt.refresh_from_db()
    assert (hurt.closed_at, hurt.closed_by) == (None, None)


def test_it_leads_back_to_a_page_of_ours_only(cast: Cast) -> None:
    answer = opened(cast, "coach").post(
        reverse("pain-close", args=[report(cast).pk]), {"next": "https://elsewhere.example/"}
    )
    assert answer.url == reverse("home")
