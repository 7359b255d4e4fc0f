"""What both write below a reply, and another angle that is asked for."""

from uuid import UUID

from rest_framework.request import Request
from rest_framework.response import Response

from athletes.api import CoachesOnly
from athletes.local_time import today_of
from athletes.permissions import people_visible_to, signed_in
from coachdesk.common.api.pagination import paginated_response
from coachdesk.common.api.schema import list_schema, operation_schema
from reviews.intake.angles import open_angle, take_back
from reviews.replies.api.replies import CoachedView, SharedView
from reviews.replies.models import Message
from reviews.replies.schemas.message import (
    AngleSchema,
    AskedBackSchema,
    MarkedSchema,
    MessageSchema,
    OpenAngleSchema,
)
from reviews.replies.selectors.check_backs import check_backs_to_come, overdue
from reviews.replies.selectors.open_threads import open_threads
from reviews.replies.services.mark_read import mark_messages_read
from reviews.replies.services.request_angle import request_angle
from reviews.replies.services.send_message import send_message, set_aside


class MessagesView(SharedView):
    """The talk below a question, oldest first."""

    @list_schema("replies", MessageSchema, operation_id="messages_list")
    def get(self, request: Request, submission_id: UUID) -> Response:
        submission = self.submission(submission_id)
        rows = Message.objects.filter(submission=submission)
        return paginated_response(rows, MessageSchema, request=request, view=self, by="sent_at")

    @operation_schema("replies", MessageSchema, MessageSchema, 201)
    def post(self, request: Request, submission_id: UUID) -> Response:
        submission = self.submission(submission_id)
        values = self.valid(MessageSchema)
        message = send_message(author=signed_in(request), submission=submission, **values)
        return Response(MessageSchema(message).data, status=201)


class ReadMessagesView(SharedView):
    """POST: what the other side wrote was read. Reading the list marks nothing."""

    @operation_schema("replies", gives=MarkedSchema)
    def post(self, request: Request, submission_id: UUID) -> Response:
        submission = self.submission(submission_id)
        marked = mark_messages_read(reader=signed_in(request), submission=submission)
        return Response({"marked": marked})


class SetAsideView(CoachedView):
    """POST by a coach: what the athlete wrote needs no answer, and stands on the desk no longer."""

    @operation_schema("replies", gives=MarkedSchema)
    def post(self, request: Request, submission_id: UUID) -> Response:
        submission = self.reviewable(submission_id)
        return Response({"marked": set_aside(coach=self.coach(), submission=submission)})


class AskedBackView(CoachesOnly):
    """What athletes wrote below replies and nobody has answered, the longest wait first; and who
    was to film again by today."""

    @operation_schema("desk", gives=AskedBackSchema)
    def get(self, request: Request) -> Response:
        coach = signed_in(request)
        late = overdue(check_backs_to_come(people_visible_to(coach)), today_of(coach))
        data = {"asked_back": open_threads(coach), "not_filmed": late}
        return Response(AskedBackSchema(data).data)


class AngleView(CoachedView):
    """POST by a coach: the question waits on the athlete until a clip from there plays; 409 when
    another coach has it or it does not wait. DELETE takes that back. The athlete adds the clip by
    `POST /submissions/{id}/clips/`."""

    @operation_schema("replies", gives=OpenAngleSchema, operation_id="angle_read")
    def get(self, request: Request, submission_id: UUID) -> Response:
        angle = open_angle(self.submission(submission_id))
        return Response(OpenAngleSchema({"angle": angle}).data)

    @operation_schema("replies", AngleSchema, AngleSchema, 201)
    def post(self, request: Request, submission_id: UUID) -> Response:
        submission = self.reviewable(submission_id)
        values = self.valid(AngleSchema)
        angle = request_angle(coach=self.coach(), submission=submission, **values)
        return Response(AngleSchema(angle).data, status=201)

    @operation_schema("replies", status=204)
    def delete(self, request: Request, submission_id: UUID) -> Response:
        take_back(submission=self.reviewable(submission_id))
        return Response(status=204)
