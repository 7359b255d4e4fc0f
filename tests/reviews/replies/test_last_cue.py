"""The cue above a movement's sets: the last one of the reader's own replies, nobody else's."""

from django.test import Client
from django.urls import reverse

from programming.models import Movement
from reviews.library.models import Cue
from reviews.replies.selectors.last_cue import last_cue
from tests.conftest import Cast
from tests.reviews.replies.rows import a_clip, a_note, a_submission, an_answer


def answered_with(cast: Cast, words: str, movement: Movement) -> None:
    submission = a_submission(cast.athlete)
    clip = a_clip(submission, movement=movement)
    cue = Cue.objects.filter(club=cast.coach.club).first()
    assert cue is not None
    cue.text = words
    cue.save()
    a_note(cast.coach, clip, cue=cue, rank=1)
    an_answer(cast.coach, submission)


def test_the_newest_cue_of_the_movement_or_its_parent(cast: Cast) -> None:
    squat, bench = Movement.objects.filter(club=None, family__in=["squat", "bench"]).order_by(
        "order"
    )[:2]
    assert last_cue(athlete=cast.athlete, movement=squat) is None
    answered_with(cast, "Chest up.", squat)
    answered_with(cast, "Push the floor away.", squat)
    found = last_cue(athlete=cast.athlete, movement=squat)
    assert found is not None
    assert found.words == "Push the floor away."
    assert last_cue(athlete=cast.athlete, movement=bench) is None
    rebuilt = Movement.objects.create(
        name="Squat, new", family="squat", parent=squat, athlete=cast.athlete, club=cast.coach.club
    )
    again = last_cue(athlete=cast.athlete, movement=rebuilt)
    assert again is not None
    assert again.words == "Push the floor away."
    assert last_cue(athlete=cast.other_athlete, movement=squat) is None
    client = Client()
    client.force_login(cast.athlete)
    page = client.get(reverse("reply-cue"), {"movement": squat.pk})
    assert b"Push the floor away." in page.content
    client.force_login(cast.other_athlete)
    assert not client.get(reverse("reply-cue"), {"movement": squat.pk}).content.strip()
