"""What happens to a clip, for tests that begin after it."""

from reviews.intake import jobs
from reviews.intake.models import Clip, MediaJob
from reviews.intake.publishing import publish


def played(clip: Clip) -> None:
    """Its job ends as a worker ends it."""
    queued = MediaJob.objects.create(clip=clip, recipe=jobs.RECIPE)
    job = jobs.take(queued.pk, "a worker")
    assert job is not None
    clip.sha256 = "ab" * 32
    clip.save(update_fields=["sha256"])
    publish(job, {"frames": 30})
