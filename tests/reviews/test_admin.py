"""The owner's back door: it shows, it tries again, it writes nothing by hand."""

import pytest
from django.contrib import admin
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from athletes.models import User
from reviews.intake.models import Clip, ClipState, JobState, MediaJob, State, Submission

pytestmark = pytest.mark.django_db
OURS = [model for model in admin.site._registry if model._meta.app_label == "reviews"]


@pytest.fixture
def owner(cast) -> Client:
    User.objects.filter(pk=cast.owner.pk).update(is_staff=True, is_superuser=True)
    client = Client()
    client.force_login(User.objects.get(pk=cast.owner.pk))
    return client


@pytest.fixture
def failed(cast) -> MediaJob:
    submission = Submission.objects.create(
        club=cast.athlete.club, athlete=cast.athlete, state=State.WAITING, sent_at=timezone.now()
    )
    clip = Clip.objects.create(
        submission=submission,
        original="originals/a",
        sha256="ab" * 32,
        state=ClipState.FAILED,
        reason="Trim it.",
    )
    return MediaJob.objects.create(clip=clip, recipe=1, state=JobState.FAILED, attempts=3)


@pytest.mark.parametrize("model", OURS, ids=lambda model: model.__name__)
def test_every_list_opens_and_nothing_can_be_added(owner, failed, model) -> None:
    name = f"admin:reviews_{model._meta.model_name}"
    assert owner.get(reverse(f"{name}_changelist")).status_code == 200
    assert owner.get(reverse(f"{name}_add")).status_code == 403


@pytest.mark.parametrize("model", [Submission, Clip, MediaJob], ids=lambda model: model.__name__)
def test_a_row_is_shown_and_cannot_be_changed(owner, failed, model) -> None:
    row = model.objects.get()
    address = reverse(f"admin:reviews_{model._meta.model_name}_change", args=[row.pk])
    assert owner.get(address).status_code == 200
    assert owner.post(address, {"state": "draft"}).status_code == 403


def test_a_failed_job_is_tried_again(owner, failed) -> None:
    address = reverse("admin:reviews_mediajob_changelist")
    owner.post(address, {"action": "try_again", "_selected_action": [failed.pk]})
    failed.refresh_from_db()
    failed.clip.refresh_from_db()
    assert (failed.state, failed.attempts) == (JobState.QUEUED, 0)
    assert (failed.clip.state, failed.clip.reason) == (ClipState.PROCESSING, "")


@pytest.mark.parametrize("who", ["athlete", "coach", "owner"])
def test_a_role_alone_opens_nothing(cast, failed, who: str) -> None:
    client = Client()
    client.force_login(getattr(cast, who))
    assert client.get(reverse("admin:reviews_clip_changelist")).status_code == 302
