"""What was sent to the athlete."""

from uuid import UUID

from django.shortcuts import get_object_or_404
from rest_framework.exceptions import PermissionDenied
from rest_framework.request import Request
from rest_framework.response import Response

from athletes.permissions import signed_in
from coachdesk.common.api.pagination import paginated_response
from coachdesk.common.api.schema import list_schema, operation_schema
from reviews.intake.models import Submission
from reviews.permissions import submissions_reviewable_by, submissions_visible_to
from reviews.replies.api.workbench import WorkbenchView
from reviews.replies.models import ReplyVersion
from reviews.replies.schemas.version import UnderstoodSchema, VersionSchema
from reviews.replies.services.mark_read import mark_understood


class SharedView(WorkbenchView):
    """Between the athlete and the coaches of the club."""

    def submission(self, pk: UUID) -> Submission:
        seen = submissions_visible_to(signed_in(self.request)).filter(sent_at__isnull=False)
        return get_object_or_404(seen, pk=pk)


class CoachedView(SharedView):
    """Of a question that this coach may answer."""

    def reviewable(self, pk: UUID) -> Submission:
        if not self.coach().is_coach:
            raise PermissionDenied("This is the coaches' tool.")
        return get_object_or_404(submissions_reviewable_by(self.coach()), pk=pk)


class RepliesView(SharedView):
    """Each version that was sent, the newest first."""

    @list_schema("replies", VersionSchema, operation_id="replies_list")
    def get(self, request: Request, submission_id: UUID) -> Response:
        rows = ReplyVersion.objects.filter(reply__submission=self.submission(submission_id))
        rows = rows.select_related("sent_by", "reply")
        return paginated_response(rows, VersionSchema, request=request, view=self, by="-number")


class UnderstoodView(SharedView):
    """POST by the athlete: this version, and what came before it, was read and understood."""

    @operation_schema("replies", UnderstoodSchema, UnderstoodSchema)
    def post(self, request: Request, submission_id: UUID) -> Response:
        submission = self.submission(submission_id)
        user = signed_in(request)
        if submission.athlete_id != user.pk:
            raise PermissionDenied("Only the athlete can say that.")
        values = self.valid(UnderstoodSchema)
        return Response({"marked": mark_understood(athlete=user, submission=submission, **values)})
