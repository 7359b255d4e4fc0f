"""The evening's budget over REST: how much of what waits fits in the time there is."""

from typing import Any

from drf_spectacular.utils import extend_schema_serializer
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from athletes.api import CoachesOnly
from athletes.permissions import signed_in
from coachdesk.common.api.schema import operation_schema
from reviews.desk.evening import LONGEST_EVENING, USUAL_EVENING, evening_of
from reviews.desk.queue_api import PARTS, part_asked


class EveningIn(serializers.Serializer[Any]):
    minutes = serializers.IntegerField(
        min_value=1, max_value=LONGEST_EVENING, default=USUAL_EVENING
    )


class PaceOut(serializers.Serializer[Any]):
    """Minutes for one clip; ``replies`` that say so, 0 for the stated default."""

    per_clip = serializers.FloatField()
    replies = serializers.IntegerField()


@extend_schema_serializer(component_name="ClubWeek")
class WeekOut(serializers.Serializer[Any]):
    """The whole club's since Monday."""

    answered = serializers.IntegerField()
    waiting = serializers.IntegerField()
    on_athlete = serializers.IntegerField()


class EveningOut(serializers.Serializer[Any]):
    """``fits``: the free ones that fit, in order; ``is_about``: too many are free to be looked at
    one by one, so their minutes are those of the first ones, carried on."""

    minutes = serializers.IntegerField(source="tonight")
    pace = PaceOut()
    waiting = serializers.IntegerField()
    free = serializers.IntegerField()
    fits = serializers.SerializerMethodField()
    fit_minutes = serializers.FloatField()
    first_minutes = serializers.FloatField()
    free_minutes = serializers.FloatField()
    is_about = serializers.BooleanField()
    week = WeekOut()

    def get_fits(self, evening: Any) -> list[str]:
        return [str(slot.id) for slot in evening.fitting]


class EveningView(CoachesOnly):
    """What fits in an evening of ``minutes`` at this coach's own median pace."""

    @operation_schema("desk", gives=EveningOut, parameters=[EveningIn, *PARTS])
    def get(self, request: Request) -> Response:
        sent = EveningIn(data=request.query_params)
        sent.is_valid(raise_exception=True)
        evening = evening_of(
            signed_in(request),
            tonight=sent.validated_data["minutes"],
            sifted=part_asked(request),
        )
        return Response(EveningOut(evening).data)
