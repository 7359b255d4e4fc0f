"""The log over REST. Each answer is what is stored by now, so that a phone which lost sees it.

PUT and DELETE carry the phone's own count of changes; the same one twice is the same as once.
"""

from datetime import date
from typing import Any
from uuid import UUID

from django.utils import timezone
from rest_framework.exceptions import PermissionDenied
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from athletes.models import User
from athletes.permissions import signed_in
from programming.logs.lifting import put_set, remove_set
from programming.logs.serializers import RevisionIn, SessionIn, SetIn, WeightIn
from programming.logs.shapes import plain, session_json, set_json
from programming.logs.training import Gone, put_session, remove_session
from programming.logs.weighing import weigh
from programming.permissions import may_log


class LogView(APIView):
    """Only athletes write, each their own; what the use cases refuse becomes an answer."""

    def initial(self, request: Request, *args: Any, **kwargs: Any) -> None:
        super().initial(request, *args, **kwargs)
        if not may_log(self.athlete()):
            raise PermissionDenied("A log is its athlete's to write.")

    def athlete(self) -> User:
        return signed_in(self.request)

    def handle_exception(self, exc: Exception) -> Response:
        if isinstance(exc, Gone):
            return answer(gone=True)
        return super().handle_exception(exc)


def answer(**stored: Any) -> Response:
    """``as_of`` is the server's clock: what the phone holds from before it is settled."""
    return Response({**stored, "as_of": timezone.now().isoformat()})


class SessionView(LogView):
    def put(self, request: Request, session_id: UUID) -> Response:
        sent = SessionIn(data=request.data)
        sent.is_valid(raise_exception=True)
        row = put_session(athlete=self.athlete(), session_id=session_id, told=sent.told())
        return answer(session=session_json(row))

    def delete(self, request: Request, session_id: UUID) -> Response:
        sent = RevisionIn(data=request.data)
        sent.is_valid(raise_exception=True)
        remove_session(athlete=self.athlete(), session_id=session_id, **sent.validated_data)
        return answer(gone=True)


class SetView(LogView):
    def put(self, request: Request, session_id: UUID, set_id: UUID) -> Response:
        sent = SetIn(data=request.data)
        sent.is_valid(raise_exception=True)
        row = put_set(
            athlete=self.athlete(), session_id=session_id, set_id=set_id, told=sent.told()
        )
        return answer(set=set_json(row))

    def delete(self, request: Request, session_id: UUID, set_id: UUID) -> Response:
        sent = RevisionIn(data=request.data)
        sent.is_valid(raise_exception=True)
        remove_set(
            athlete=self.athlete(), session_id=session_id, set_id=set_id, **sent.validated_data
        )
        return answer(gone=True)


class BodyWeightView(LogView):
    def put(self, request: Request, day: date) -> Response:
        sent = WeightIn(data=request.data)
        sent.is_valid(raise_exception=True)
        row = weigh(athlete=self.athlete(), day=day, **sent.validated_data)
        return answer(day=day.isoformat(), kg=plain(row.kg) if row else None)
