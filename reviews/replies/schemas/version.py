"""What was sent, as one piece of JSON that needs nothing else to be read.

The athlete reads this for ever after, so it holds words and seconds and not only keys: entries of
the library get renamed, movements corrected, clips erased. A field that comes later is written
``required=False``: older versions do not have it.
"""

from typing import Any

from django.urls import reverse
from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from reviews.intake.models import Clip
from reviews.replies.frame_times import clock_of
from reviews.replies.models import Reply, ReplyVersion, Result
from reviews.replies.readiness import Review
from reviews.replies.schemas.fields import StrippedField
from reviews.replies.schemas.note import SentNoteSchema
from reviews.replies.schemas.rep_call import SentRepCallSchema
from reviews.replies.selectors.follow_up import FollowUp, FollowUpPoint
from reviews.replies.selectors.programme_changes import (
    ChangedSession,
    ProgrammeChange,
    standing_changes,
)
from reviews.replies.text_tracks import TRACKS

FORMAT = 1


class SentClipSchema(serializers.ModelSerializer[Clip]):
    """The context holds each clip's clock, under ``clocks``, and all ``calls`` of the review."""

    movement = serializers.CharField(source="movement.name", default="")
    view = serializers.CharField(source="get_view_display")
    seconds = serializers.SerializerMethodField()
    calls = serializers.SerializerMethodField()

    class Meta:
        model = Clip
        fields = [
            *("id", "position", "movement", "load_kg", "reps", "rpe", "view", "seconds", "calls")
        ]

    def get_seconds(self, clip: Clip) -> float | None:
        clock = self.context["clocks"][clip.pk]
        return round(clock.seconds, 3) if clock else None

    @extend_schema_field(SentRepCallSchema(many=True))
    def get_calls(self, clip: Clip) -> Any:
        calls = [row for row in self.context["calls"] if row.clip_id == clip.pk and row.call]
        return SentRepCallSchema(calls, many=True, context=self.context).data


class FilmAgainSchema(serializers.Serializer[Reply]):
    by = serializers.DateField(source="film_again_by", allow_null=True)
    note = StrippedField(source="film_again_note")


class SentOutcomeSchema(serializers.Serializer[FollowUpPoint]):
    note = serializers.UUIDField(source="outcome.note")
    number = serializers.IntegerField(source="outcome.number", allow_null=True)
    title = serializers.CharField()
    result = serializers.ChoiceField(Result.choices, source="outcome.result")


class SentCheckBackSchema(serializers.Serializer[FollowUp]):
    """``of``: the earlier submission; ``version``: of the reply that it follows."""

    of = serializers.UUIDField(source="version.reply.submission_id")
    version = serializers.IntegerField(source="version.number")
    outcomes = SentOutcomeSchema(source="judged_points", many=True)


class ChangedSessionSchema(serializers.Serializer[ChangedSession]):
    day = serializers.DateField()
    before = serializers.CharField(allow_null=True)
    after = serializers.CharField()


class ProgrammeChangeSchema(serializers.Serializer[ProgrammeChange]):
    correction = serializers.UUIDField(source="correction.pk")
    note = serializers.UUIDField(source="reason.note_id", allow_null=True)
    fault = serializers.CharField(source="reason.seen.fault")
    said = serializers.CharField(source="correction.said")
    check_back_on = serializers.DateField(source="correction.check_back_on", allow_null=True)
    sessions = ChangedSessionSchema(many=True)


class ContentSchema(serializers.Serializer[Review]):
    """A version as it was sent. It never changes."""

    format = serializers.SerializerMethodField()
    coach = serializers.CharField(source="reader.name")
    question = serializers.CharField(source="submission.question")
    opening = StrippedField(source="reply.opening")
    pain = serializers.SerializerMethodField()
    film_again = FilmAgainSchema(source="reply")
    clips = SentClipSchema(many=True)
    points = SentNoteSchema(many=True)
    rest = SentNoteSchema(many=True)
    check_back = SentCheckBackSchema(source="follow_up", allow_null=True)
    changes = serializers.SerializerMethodField()

    def get_format(self, review: Review) -> int:
        return FORMAT

    def get_pain(self, review: Review) -> bool:
        return review.submission.pain_id is not None

    @extend_schema_field(ProgrammeChangeSchema(many=True))
    def get_changes(self, review: Review) -> Any:
        changes: Any = standing_changes(review.submission)
        return ProgrammeChangeSchema(changes, many=True).data


def frozen_content(review: Review) -> dict[str, Any]:
    """The review as it stands, to be sent."""
    context = {
        "clocks": {clip.pk: clock_of(clip) for clip in review.clips},
        "calls": review.calls,
        "numbers": {note.pk: number for number, note in enumerate(review.points, start=1)},
    }
    return dict(ContentSchema(review, context=context).data)


def track_urls(version: ReplyVersion, clip_id: str) -> dict[str, str]:
    """The addresses of one clip's text tracks, as they were sent."""
    place = [version.reply.submission_id, version.number, clip_id]
    return {kind: reverse("reply-track", args=[*place, kind]) for kind in TRACKS}


class VersionSchema(serializers.ModelSerializer[ReplyVersion]):
    """``tracks``: by a clip's id, the addresses of its captions and chapters (WebVTT)."""

    sent_by = serializers.CharField(source="sent_by.name")
    content = serializers.SerializerMethodField()
    tracks = serializers.SerializerMethodField()

    class Meta:
        model = ReplyVersion
        fields = ["number", "sent_by", "sent_at", "understood_at", "content", "tracks"]

    @extend_schema_field(ContentSchema)
    def get_content(self, version: ReplyVersion) -> Any:
        return version.content

    def get_tracks(self, version: ReplyVersion) -> dict[str, dict[str, str]]:
        return {clip["id"]: track_urls(version, clip["id"]) for clip in version.content["clips"]}


class UnderstoodSchema(serializers.Serializer[Any]):
    """``number``: the version that was read; ``marked``: there was something left to mark."""

    number = serializers.IntegerField(min_value=1, max_value=32767, write_only=True)
    marked = serializers.BooleanField(read_only=True)
