"""What is open with an athlete: told in a reply, until a check-back shows it gone."""

from uuid import UUID

import pytest
from django.urls import reverse

from reviews.desk.claiming import claim
from reviews.library.models import Fault
from reviews.models import Submission
from reviews.replies.models import ReplyVersion, Result
from reviews.replies.selectors.athlete_faults import athlete_faults
from reviews.replies.services.publish_reply import publish_reply
from reviews.replies.services.record_outcome import record_outcome
from tests.conftest import Cast
from tests.reviews.replies.rows import a_clip, a_note, a_submission

pytestmark = pytest.mark.django_db


def told(cast: Cast, *names: str, **facts: object) -> ReplyVersion:
    """A reply with one focus point for each fault named."""
    submission = a_submission(cast.athlete, **facts)
    clip = a_clip(submission)
    claim(submission=submission, coach=cast.coach)
    for rank, name in enumerate(names, start=1):
        fault = Fault.objects.get(club=cast.coach.club, family="squat", name=name)
        a_note(cast.coach, clip, fault=fault, rank=rank)
    return publish_reply(coach=cast.coach, submission_id=submission.pk)


def judged(cast: Cast, version: ReplyVersion, result: Result) -> Submission:
    back = a_submission(cast.athlete, check_back_of=version.reply.submission)
    claim(submission=back, coach=cast.coach)
    note = version.content["points"][0]["note"]
    record_outcome(coach=cast.coach, check_back_id=back.pk, note=UUID(note), result=result)
    return back


def test_open_ones_stand_first_and_gone_ones_last(cast: Cast) -> None:
    first = told(cast, "Hips rise first", "Short of depth")
    judged(cast, first, Result.GONE)
    found = athlete_faults(cast.athlete)
    assert [(one.name, one.gone) for one in found] == [
        ("Short of depth", False),
        ("Hips rise first", True),
    ]
    assert not athlete_faults(cast.other_athlete)


def test_a_second_version_of_a_reply_tells_it_no_second_time(cast: Cast) -> None:
    first = told(cast, "Hips rise first")
    publish_reply(coach=cast.coach, submission_id=first.reply.submission_id)
    told(cast, "Hips rise first")
    assert [(one.name, one.times) for one in athlete_faults(cast.athlete)] == [
        ("Hips rise first", 2)
    ]


def test_only_coaches_of_the_club_read_it(cast: Cast, client) -> None:
    told(cast, "Hips rise first")
    address = reverse("athlete-faults", args=[cast.athlete.pk])
    client.force_login(cast.second_coach)
    assert "Hips rise first" in client.get(address).content.decode()
    client.force_login(cast.stranger)
    assert client.get(address).status_code == 404
