"""How much an athlete may send. Told on the page before an upload begins, kept by the server."""

from dataclasses import dataclass

from django.conf import settings
from django.db.models import Sum
from django.template.defaultfilters import filesizeformat

from athletes.models import User
from reviews.intake.models import Clip, Upload


@dataclass(frozen=True)
class Room:
    """Bytes and seconds; `left` is what this athlete can still send."""

    clip_bytes: int
    clip_seconds: int
    quota_bytes: int
    left: int

    @property
    def sentence(self) -> str:
        """The limits, as they are told before anything is picked."""
        minutes = f"{self.clip_seconds / 60:g} minutes"
        left, whole = size(self.left), size(self.quota_bytes)
        return (
            f"Up to {size(self.clip_bytes)} and {minutes} a clip. You have {left} of {whole} left."
        )


def size(count: int) -> str:
    """Bytes as they are read: "2 GB", "41.5 MB", in powers of 1024."""
    return filesizeformat(count).replace(".0", "")


def room_of(athlete: User) -> Room:
    """What is taken: the originals kept, and everything announced that may still arrive."""
    kept = Clip.objects.filter(submission__athlete=athlete).exclude(original="")
    coming = Upload.objects.filter(owner=athlete, finished_at=None)
    taken = (kept.aggregate(n=Sum("size"))["n"] or 0) + (
        coming.aggregate(n=Sum("length"))["n"] or 0
    )
    return Room(
        clip_bytes=settings.UPLOAD_MAX_BYTES,
        clip_seconds=settings.CLIP_MAX_SECONDS,
        quota_bytes=settings.ATHLETE_QUOTA_BYTES,
        left=max(0, settings.ATHLETE_QUOTA_BYTES - taken),
    )


def refusal(room: Room, length: int) -> str:
    """Why a file of this length cannot come, as a sentence; "" when it can."""
    if length == 0:
        return "This file is empty. Pick the clip again."
    this = f"This file is {size(length)}"
    if length > room.clip_bytes:
        most = size(room.clip_bytes)
        return f"{this}; a clip can be {most} at most. Cut it to the set itself, or film at 1080p."
    if length > room.left:
        left, whole = size(room.left), size(room.quota_bytes)
        return f"{this} and you have {left} left of {whole}. Ask your coach to clear old clips."
    return ""
