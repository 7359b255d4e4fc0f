"""The desk's pages and its API: what they do, and who may."""

import re

import pytest
from django.urls import reverse

from reviews.desk.claiming import claim, live_claim
from reviews.intake.models import ClipState, State

pytestmark = pytest.mark.filterwarnings("ignore:No directory at")


@pytest.fixture
def coach(client, cast):
    client.force_login(cast.coach)
    return client


def test_the_desk_says_what_waits(coach, cast, waiting) -> None:
    submission = waiting(pain=4, clips=2, question="Does <b>this</b> look right?")
    broken = submission.clips.last()
    broken.state, broken.reason = ClipState.FAILED, "The file stops at 60%."
    broken.save()
    page = coach.get(reverse("desk")).content.decode()
    assert "Pain: lower back, 4 of 10" in page
    assert "Does &lt;b&gt;this&lt;/b&gt; look right?" in page
    assert "Clip 2 will not play." in page
    assert "The file stops at 60%." in page


def test_nothing_is_styled_or_scripted_inline(coach, waiting) -> None:
    """Our content security policy forbids it; a browser would drop it without a word."""
    waiting()
    page = coach.get(reverse("desk")).content.decode()
    assert not re.search(r"\sstyle=|\son[a-z]+=|<script(?![^>]*\ssrc=)", page)


def test_a_clear_desk_says_what_will_appear(coach) -> None:
    page = coach.get(reverse("desk")).content.decode()
    assert "Your desk is clear." in page
    assert reverse("desk-next") not in page


def test_next_claims_and_opens(coach, cast, waiting) -> None:
    submission = waiting()
    answer = coach.post(reverse("desk-next"))
    assert answer.headers["Location"] == reverse("workbench", args=[submission.pk])
    assert live_claim(submission).coach == cast.coach


def test_next_with_nothing_free_says_so(coach, cast, waiting) -> None:
    claim(submission=waiting(), coach=cast.second_coach)
    page = coach.post(reverse("desk-next"), follow=True).content.decode()
    assert "Nothing is free just now" in page


def test_claiming_what_is_held_opens_it_to_read_along(coach, cast, waiting) -> None:
    submission = waiting()
    claim(submission=submission, coach=cast.second_coach)
    answer = coach.post(reverse("desk-claim", args=[submission.pk]))
    assert answer.headers["Location"] == reverse("workbench", args=[submission.pk])
    assert live_claim(submission).coach == cast.second_coach
    assert "Bram has it, since" in coach.get(reverse("desk")).content.decode()


def test_giving_back(coach, cast, waiting) -> None:
    submission = waiting()
    claim(submission=submission, coach=cast.coach)
    page = coach.post(reverse("desk-release", args=[submission.pk]), follow=True).content.decode()
    assert "Mira Solheim is back in the queue." in page
    assert live_claim(submission) is None


def test_the_time_tonight_is_kept_in_the_session(coach, waiting) -> None:
    waiting()
    coach.post(reverse("desk-tonight"), {"minutes": "30"})
    assert "Your 30 minutes fit" in coach.get(reverse("desk")).content.decode()
    page = coach.post(reverse("desk-tonight"), {"minutes": "31"}, follow=True).content.decode()
    assert "Choose one of the times listed." in page
    assert "Your 30 minutes fit" in page


def test_a_long_queue_is_shown_in_parts(coach, waiting) -> None:
    for _ in range(53):
        waiting()
    page = coach.get(reverse("desk")).content.decode()
    assert page.count("data-line") == 50
    assert "Show the last 3" in page
    more = coach.get(reverse("desk"), {"show": "100"}).content.decode()
    assert more.count("data-line") == 53
    assert coach.get(reverse("desk"), {"show": "-1; x"}).status_code == 200


@pytest.mark.parametrize("name", ["api-claim", "desk-claim"])
def test_a_draft_and_a_foreign_one_do_not_exist(coach, cast, waiting, name) -> None:
    for submission in (waiting(state=State.DRAFT), waiting(cast.outsider)):
        assert coach.post(reverse(name, args=[submission.pk])).status_code == 404
        assert live_claim(submission) is None


def test_the_api_claims_renews_and_releases(coach, cast, waiting) -> None:
    submission = waiting()
    claimed = coach.post(reverse("api-claim", args=[submission.pk])).json()
    assert claimed["coach"] == "Tove Lindqvist"
    again = coach.post(reverse("api-claim", args=[submission.pk])).json()
    assert again["taken_at"] == claimed["taken_at"]
    assert again["until"] > claimed["until"]
    url = reverse("api-release", args=[submission.pk])
    assert coach.post(url).json() == {"released": True}
    assert coach.post(url).json() == {"released": False}


def test_the_api_says_who_holds_it(coach, cast, waiting) -> None:
    """A problem of RFC 9457 with 409: the state of the resource is in the way (RFC 9110)."""
    submission = waiting()
    claim(submission=submission, coach=cast.second_coach)
    answer = coach.post(reverse("api-claim", args=[submission.pk]))
    assert answer.status_code == 409
    assert answer.headers["Content-Type"] == "application/problem+json"
    assert answer.json()["detail"].startswith("Bram claimed it at")


def test_athletes_have_no_desk(client, cast, waiting) -> None:
    submission = waiting()
    client.force_login(cast.athlete)
    assert client.get(reverse("desk")).status_code == 403
    assert client.post(reverse("desk-next")).status_code == 403
    assert client.post(reverse("desk-claim", args=[submission.pk])).status_code == 403
    assert client.post(reverse("api-claim", args=[submission.pk])).status_code == 404
    assert live_claim(submission) is None
