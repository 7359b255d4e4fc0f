"""Reads with a bounded number of SQL statements."""

from django.db.models import Exists, OuterRef, Prefetch, QuerySet

from athletes.models import User
from reviews.desk.claiming import live_claim
from reviews.intake.clip_data import read_with_progress, with_progress
from reviews.intake.models import AngleRequest, Clip, Submission
from reviews.permissions import submissions_visible_to
from reviews.replies.models import Message, Note, RepCall, Reply, ReplyVersion
from reviews.replies.readiness import Review
from reviews.replies.selectors.follow_up import follow_up_of


def review_of(submission: Submission, reader: User) -> Review:
    """All that a review consists of, for this reader: five statements however long it is, two more
    while a clip is being made, two for a check-back."""
    reply = Reply.objects.filter(submission=submission).first()
    clips = read_with_progress(submission.clips.order_by("position", "created_at"))
    seen = Note.objects.filter(clip__submission=submission)
    notes = list(seen.order_by("clip__position", "first_frame", "made_at"))
    called = RepCall.objects.filter(clip__submission=submission).prefetch_related("faults")
    calls = list(called.order_by("clip__position", "rep"))
    return Review(
        reader=reader,
        submission=submission,
        claim=live_claim(submission),
        reply=reply or Reply(submission=submission),
        clips=clips,
        notes=notes,
        calls=calls,
        follow_up=follow_up_of(submission, clips=clips, calls=calls, notes=notes),
    )


def read_by(reader: User) -> QuerySet[Submission]:
    """What this person may read, with clips, versions and talk, newest first: nine statements."""
    clips = with_progress(Clip.objects.order_by("position", "created_at"))
    asked = AngleRequest.objects.filter(settled_at=None).select_related("asked_by")
    versions = ReplyVersion.objects.select_related("sent_by")
    return (
        submissions_visible_to(reader)
        .select_related("athlete", "claim__coach", "pain", "reply")
        .prefetch_related(
            Prefetch("clips", clips),
            Prefetch("angles", asked, to_attr="asked_angles"),
            Prefetch("reply__versions", versions),
            Prefetch("messages", Message.objects.select_related("author")),
            "check_backs",
        )
        .order_by("-created_at")
    )


def answered_for(reader: User) -> QuerySet[Submission]:
    """Those of `read_by` that a reply was sent to, the newest answer first."""
    sent = ReplyVersion.objects.filter(reply__submission=OuterRef("pk"))
    return read_by(reader).filter(Exists(sent)).order_by("-answered_at")
