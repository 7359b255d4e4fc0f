"""What the server answers to a plain form that is sent by script."""

from django.test import Client
from django.urls import reverse

from reviews.replies.models import Message
from reviews.replies.services.send_message import send_message
from tests.reviews.replies.rows import a_submission

KEPT = {"X-Kept-Form": "1"}


def test_it_is_told_where_it_leads_and_uses_up_no_message(cast) -> None:
    submission = a_submission(cast.athlete)
    client = Client()
    client.force_login(cast.athlete)
    url = reverse("submission-ask", args=[submission.pk])
    answer = client.post(url, {"text": "And now?"}, headers=KEPT)
    page = reverse("submission", args=[submission.pk])
    assert (answer.status_code, answer.headers["X-Location"]) == (204, page)
    assert "Location" not in answer.headers
    assert "Sent. The answer comes below, and by e-mail." in client.get(page).content.decode()


def test_where_nobody_is_signed_in_it_hears_so(cast) -> None:
    submission = a_submission(cast.athlete)
    answer = Client().post(reverse("submission-ask", args=[submission.pk]), headers=KEPT)
    assert answer.status_code == 401
    assert Client().post(reverse("submission-ask", args=[submission.pk])).status_code == 302


def test_the_same_words_again_are_the_same_message(cast) -> None:
    """A page that never heard the answer sends once more."""
    submission = a_submission(cast.athlete)
    first = send_message(author=cast.athlete, submission=submission, text="And now?")
    assert send_message(author=cast.athlete, submission=submission, text="And now? ") == first
    send_message(author=cast.coach, submission=submission, text="Now you rest.")
    send_message(author=cast.athlete, submission=submission, text="And now?")
    assert Message.objects.count() == 3
