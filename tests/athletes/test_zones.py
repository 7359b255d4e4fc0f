"""Times are shown in the reader's zone, and what belongs to a day belongs to the athlete's."""

import re
from datetime import UTC, date, datetime, timedelta

import pytest
from django.test import Client
from django.utils import timezone

from athletes.models import PainReport, User
from athletes.tokens.services import issue_token
from reviews.desk.claiming import claim
from reviews.desk.models import Claim
from tests.conftest import Cast
from tests.programming.load.training import weeks_of_training
from tests.reviews.replies.rows import a_clip, a_note, a_submission

pytestmark = pytest.mark.django_db
LATE = datetime(2026, 11, 24, 22, 30, tzinfo=UTC)  # the 25th in Auckland, the 24th in Denver


@pytest.fixture
def cast(cast: Cast) -> Cast:
    User.objects.filter(pk=cast.athlete.pk).update(timezone="Pacific/Auckland")
    User.objects.filter(pk=cast.coach.pk).update(timezone="America/Denver")
    for person in (cast.athlete, cast.coach):
        person.refresh_from_db()
    return cast


def test_pain_has_one_date_on_every_page(client: Client, cast: Cast) -> None:
    PainReport.objects.create(athlete=cast.athlete, where="knee", score=4, reported_at=LATE)
    weeks_of_training(cast.athlete, date(2026, 11, 25), weeks=2)
    client.force_login(cast.coach)
    for url in (f"/people/{cast.athlete.pk}/", f"/people/{cast.athlete.pk}/load/"):
        page = client.get(url).content.decode()
        days = re.findall(r"2[0-9] Nov 2026", page[page.index("knee 4 of 10") :])
        assert days[0] == "25 Nov 2026", url


def test_a_page_names_its_readers_zone_to_its_scripts(client: Client, cast: Cast) -> None:
    client.force_login(cast.coach)
    assert 'data-zone="America/Denver"' in client.get("/desk/").content.decode()


def test_a_sentence_by_api_has_the_readers_time(client: Client, cast: Cast) -> None:
    """As the page says it to the same person: 22:30 UTC is 15:30 in Denver in November (IANA)."""
    clip = a_clip(a_submission(cast.athlete))
    a_note(cast.second_coach, clip, text="hips")
    claim(submission=clip.submission, coach=cast.second_coach)
    Claim.objects.update(taken_at=LATE, until=timezone.now() + timedelta(minutes=9))
    _, secret = issue_token(user=cast.coach, name="script", scopes=["reviews:write"], days=9)
    answer = client.post(
        f"/api/v1/submissions/{clip.submission_id}/claim/",
        headers={"Authorization": f"Bearer {secret}"},
    )
    assert "at 15:30" in answer.json()["detail"]
