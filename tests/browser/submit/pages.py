"""The submit page, in the states an athlete meets."""

from django.urls import reverse

from athletes.models import PainReport
from reviews.intake.models import Clip, ClipState, Goal, Submission
from tests.browser.pages import Look
from tests.conftest import Cast
from tests.reviews.replies.rows import a_clip, a_submission


def page_of(submission: Submission) -> str:
    return reverse("submit-draft", args=[submission.pk])


def a_draft(cast: Cast, **facts: object) -> Submission:
    return a_submission(cast.athlete, state="draft", sent_at=None, **facts)


def empty(cast: Cast) -> str:
    return page_of(a_draft(cast, question=""))


def full(cast: Cast) -> str:
    pain = PainReport.objects.create(
        athlete=cast.athlete, where="lower back", score=4, since="Monday", signs=["night"]
    )
    draft = a_draft(cast, pain=pain, tried="A wider stance", goal=Goal.TOTAL, equipment=["belt"])
    a_clip(draft)
    clip = a_clip(draft, state=ClipState.RECEIVING, sha256="", movement=None, load_kg=None)
    Clip.objects.filter(pk=clip.pk).update(filename="A very long name of a video " * 5 + ".mov")
    a_clip(draft, state=ClipState.PROCESSING)
    return page_of(draft)


def sent_with_a_failed_clip(cast: Cast) -> str:
    submission = a_submission(cast.athlete)
    a_clip(submission, state=ClipState.FAILED, reason="The file stops at 60%. Send it again.")
    return page_of(submission)


PAGES = [
    Look("submit-draft", "athlete", empty, "empty"),
    Look("submit-draft", "athlete", full),
    Look("submit-draft", "athlete", sent_with_a_failed_clip, "failed"),
]
