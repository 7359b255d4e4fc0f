"""REST of the private calendar: whether its address is open; a new one; none any more."""

from typing import Any

from rest_framework import serializers
from rest_framework.exceptions import PermissionDenied
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from athletes.models import User
from athletes.permissions import signed_in
from coachdesk.common.api.schema import operation_schema
from programming.permissions import may_log
from programming.plans.feeding import address_of, close_feed, open_feed
from programming.plans.models import CalendarFeed


class FeedOut(serializers.Serializer[Any]):
    """``made_at``: since when it is open; null when it is not."""

    made_at = serializers.DateTimeField(allow_null=True)


class FeedMade(FeedOut):
    """``address`` is told this once: null when the request is repeated."""

    address = serializers.URLField(allow_null=True)


class CalendarView(APIView):
    """An athlete's own. POST makes a new address, and the one before opens nothing any more;
    DELETE closes it."""

    secret_fields = ("address",)

    @operation_schema("programmes", gives=FeedOut)
    def get(self, request: Request) -> Response:
        feed = CalendarFeed.objects.filter(athlete=self._athlete(request)).first()
        return Response(FeedOut({"made_at": feed and feed.made_at}).data)

    @operation_schema("programmes", gives=FeedMade, status=201)
    def post(self, request: Request) -> Response:
        athlete = self._athlete(request)
        address = address_of(open_feed(athlete=athlete))
        feed = CalendarFeed.objects.get(athlete=athlete)
        told = {"made_at": feed.made_at, "address": address}
        return Response(FeedMade(told).data, status=201)

    @operation_schema("programmes", status=204)
    def delete(self, request: Request) -> Response:
        close_feed(athlete=self._athlete(request))
        return Response(status=204)

    def _athlete(self, request: Request) -> User:
        user = signed_in(request)
        if not may_log(user):
            raise PermissionDenied("Only an athlete has a calendar of sessions.")
        return user
