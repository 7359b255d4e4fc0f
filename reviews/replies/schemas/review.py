"""All of a review, for the workbench's page and the API alike.

Frames are integers, first and last inclusive; ids are as the API takes them; an empty choice is
null. `urls` hold __id__, __clip__ and __rep__ where the page fills in a name.
"""

from typing import Any
from urllib.parse import urlencode
from uuid import UUID

from django.urls import reverse
from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from athletes.models import PainReport, Unit, User
from programming.movements.families import Family
from reviews.desk.models import Claim
from reviews.intake.clip_data import clip_data
from reviews.intake.models import Submission
from reviews.replies.readiness import Review, may_publish
from reviews.replies.schemas.note import NoteSchema
from reviews.replies.schemas.rep_call import RepCallSchema
from reviews.replies.schemas.reply import MayPublishSchema, ReplySchema
from reviews.replies.submission_status import status_of

ANY = UUID(int=0)  # stands for a name that the page fills in


class AthleteSchema(serializers.ModelSerializer[User]):
    class Meta:
        model = User
        fields = ["id", "name"]


class SubmissionPainSchema(serializers.ModelSerializer[PainReport]):
    signs = serializers.ListField(child=serializers.CharField(), source="sign_questions")

    class Meta:
        model = PainReport
        fields = ["where", "score", "since", "signs"]


class ReviewedSubmissionSchema(serializers.ModelSerializer[Submission]):
    goal = serializers.CharField(source="get_goal_display")
    status = serializers.SerializerMethodField()
    athlete = AthleteSchema()
    equipment = serializers.ListField(child=serializers.CharField(), source="equipment_words")
    pain = SubmissionPainSchema(allow_null=True)
    asked_at = serializers.DateTimeField(source="sent_at")

    class Meta:
        model = Submission
        fields = [
            *("id", "question", "tried", "goal", "status"),
            *("athlete", "equipment", "pain", "asked_at"),
        ]

    def get_status(self, submission: Submission) -> str:
        return status_of(submission.state, self.context["claim"])


class FilmstripSchema(serializers.Serializer[Any]):
    url = serializers.CharField()
    tile_width = serializers.IntegerField()
    tile_height = serializers.IntegerField()
    count = serializers.IntegerField()
    columns = serializers.IntegerField()
    frames = serializers.ListField(child=serializers.IntegerField())


class ReviewedClipSchema(serializers.Serializer[Any]):
    """What `clip_data` says of a clip."""

    id = serializers.UUIDField()
    position = serializers.IntegerField()
    movement = serializers.CharField()
    family = serializers.CharField()
    phases = serializers.ListField(child=serializers.CharField())
    load = serializers.CharField()
    unit = serializers.ChoiceField(Unit.choices)
    reps = serializers.IntegerField()
    rpe = serializers.CharField()
    effort = serializers.CharField(help_text="In the athlete's words: RPE 8.5, or 2 in reserve.")
    view = serializers.CharField()
    view_label = serializers.CharField()
    shows = serializers.CharField()
    shows_fault = serializers.BooleanField()
    status = serializers.CharField()
    progress = serializers.FloatField()
    reason = serializers.CharField()
    playable = serializers.CharField()
    frames_url = serializers.CharField()
    poster = serializers.CharField()
    filmstrip = FilmstripSchema(allow_null=True)
    width = serializers.IntegerField()
    height = serializers.IntegerField()
    frame_count = serializers.IntegerField(allow_null=True)


class HeldClaimSchema(serializers.ModelSerializer[Claim]):
    """``mine``: the reader holds it."""

    coach = serializers.CharField(source="coach.name")
    mine = serializers.SerializerMethodField()

    class Meta:
        model = Claim
        fields = ["coach", "mine", "until"]

    def get_mine(self, claim: Claim) -> bool:
        return claim.coach_id == self.context["reader"].pk


class ReviewSchema(serializers.Serializer[Review]):
    """All of it, to pick up where another page or another coach left off. ``outcomes``: what was
    said of the earlier points, by the note that each was."""

    reader = serializers.IntegerField(source="reader.pk")
    submission = ReviewedSubmissionSchema()
    urls = serializers.SerializerMethodField()
    clips = serializers.SerializerMethodField()
    opens_on = serializers.SerializerMethodField()
    notes = NoteSchema(many=True)
    rep_calls = RepCallSchema(source="calls", many=True)
    outcomes = serializers.SerializerMethodField()
    reply = ReplySchema()
    claim = HeldClaimSchema(allow_null=True)
    may_publish = serializers.SerializerMethodField()

    @extend_schema_field(ReviewedClipSchema(many=True))
    def get_clips(self, review: Review) -> list[dict[str, Any]]:
        return [clip_data(clip, review.reader) for clip in review.clips]

    def get_opens_on(self, review: Review) -> str:
        """The clip that shows the fault, where one says so and plays; else the first; "" for
        none."""
        shows = [clip for clip in review.clips if clip.shows_fault and clip.is_playable]
        return next((str(clip.pk) for clip in [*shows, *review.clips]), "")

    def get_outcomes(self, review: Review) -> dict[str, str]:
        points = review.follow_up.points if review.follow_up else []
        return {point.sent["note"]: point.outcome.result for point in points if point.outcome}

    @extend_schema_field(MayPublishSchema)
    def get_may_publish(self, review: Review) -> Any:
        return MayPublishSchema(may_publish(review)).data

    def get_urls(self, review: Review) -> dict[str, str]:
        submission = review.submission.pk
        families = dict.fromkeys(clip.movement.family for clip in review.clips if clip.movement)
        lifts = urlencode({"family": list(families) or [Family.OTHER]}, doseq=True)
        rep = reverse("api-rep-call", args=[ANY, 0]).replace(str(ANY), "__clip__")
        outcome = reverse("api-outcome", args=[submission, ANY])
        change = reverse("correction", args=[submission, ANY])
        return {
            "state": reverse("api-review", args=[submission]),
            "desk": reverse("desk"),
            "next": reverse("desk-next"),
            "publish": reverse("api-publish", args=[submission]),
            "claim": reverse("api-claim", args=[submission]),
            "library": f"{reverse('api-library')}?{lifts}",
            "reply": reverse("api-reply", args=[submission]),
            "note": reverse("api-note", args=[ANY]).replace(str(ANY), "__id__"),
            "outcome": outcome.replace(str(ANY), "__id__"),
            "rep": rep.replace("/0/", "/__rep__/"),
            "change": change.replace(str(ANY), "__id__"),
            "coming": reverse("coming-sessions", args=[submission]),
            "angle": reverse("workbench-angle", args=[submission]),
        }


def review_data(review: Review) -> dict[str, Any]:
    context = {"reader": review.reader, "claim": review.claim, "is_working": review.is_held}
    return dict(ReviewSchema(review, context=context).data)
