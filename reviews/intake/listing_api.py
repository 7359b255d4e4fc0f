"""REST of submissions as they are read: one's own, or the club's."""

from typing import Any
from uuid import UUID

from drf_spectacular.utils import OpenApiParameter
from rest_framework import serializers
from rest_framework.exceptions import PermissionDenied, ValidationError
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from athletes.models import PainReport, WarningSign
from athletes.permissions import signed_in
from coachdesk.common.api.pagination import paginated_response
from coachdesk.common.api.schema import list_schema, operation_schema
from reviews.intake import submitting
from reviews.intake.clip_data import media_url
from reviews.intake.models import Clip, Equipment, State, Submission
from reviews.permissions import may_submit, submissions_visible_to


class PainOut(serializers.ModelSerializer[PainReport]):
    signs = serializers.ListField(child=serializers.ChoiceField(WarningSign.choices))

    class Meta:
        model = PainReport
        fields = ["where", "score", "since", "signs"]


class ClipOut(serializers.ModelSerializer[Clip]):
    """``files``: once it plays, the addresses of what was made of it, by kind."""

    files = serializers.SerializerMethodField()

    class Meta:
        model = Clip
        fields = ["id", "state", "movement", "load_kg", "load_unit", "reps", "rpe", "view", "files"]

    def get_files(self, clip: Clip) -> dict[str, str]:
        made = clip.made if clip.is_playable else None
        return {kind: media_url(clip, kind) for kind in made["files"]} if made else {}


class SubmissionOut(serializers.ModelSerializer[Submission]):
    pain = PainOut(allow_null=True)
    equipment = serializers.ListField(child=serializers.ChoiceField(Equipment.choices))
    clips = ClipOut(many=True)

    class Meta:
        model = Submission
        fields = [
            *("id", "athlete", "check_back_of", "question", "tried", "goal", "equipment", "pain"),
            *("state", "created_at", "sent_at", "answered_at", "clips"),
        ]


class DraftIn(serializers.Serializer[Any]):
    """``check_back_of``: the answered question that this one follows."""

    check_back_of = serializers.UUIDField(allow_null=True, default=None)


STATE = OpenApiParameter("state", enum=State.values)


class SubmissionsApi(APIView):
    """Newest first; POST gives the draft that is open, or a new one."""

    @list_schema("submissions", SubmissionOut, parameters=[STATE], operation_id="submissions_list")
    def get(self, request: Request) -> Response:
        seen = submissions_visible_to(signed_in(request))
        if state := request.query_params.get("state"):
            if state not in State.values:
                raise ValidationError({"state": f"One of: {', '.join(State.values)}."})
            seen = seen.filter(state=state)
        rows = seen.select_related("pain").prefetch_related("clips")
        return paginated_response(rows, SubmissionOut, request=request, view=self, by="-created_at")

    @operation_schema("submissions", DraftIn, SubmissionOut, 201)
    def post(self, request: Request) -> Response:
        user = signed_in(request)
        if not may_submit(user):
            raise PermissionDenied("Athletes ask; a coach answers.")
        sent = DraftIn(data=request.data)
        sent.is_valid(raise_exception=True)
        try:
            draft = submitting.open_draft(athlete=user, **sent.validated_data)
        except Submission.DoesNotExist:
            raise ValidationError({"check_back_of": "That question is not here."}) from None
        return Response(SubmissionOut(draft).data, status=201)


def one_submission(request: Request, submission_id: UUID) -> Submission | None:
    seen = submissions_visible_to(signed_in(request)).select_related("pain")
    return seen.prefetch_related("clips").filter(pk=submission_id).first()
