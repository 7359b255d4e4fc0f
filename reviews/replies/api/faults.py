"""What the pages know beside a reply: an athlete's faults, what works, who asked back, who is to
film again, and why a prescription is what it is."""

from typing import Any
from uuid import UUID

from django.shortcuts import get_object_or_404
from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers
from rest_framework.exceptions import PermissionDenied
from rest_framework.request import Request
from rest_framework.response import Response

from athletes.api import CoachesOnly
from athletes.local_time import today_of
from athletes.permissions import people_visible_to, signed_in
from coachdesk.common.api.schema import operation_schema
from programming.corrections.queries import why
from programming.permissions import (
    athletes_coached_by,
    athletes_readable_by,
    movements_visible_to,
    prescriptions_visible_to,
)
from reviews.permissions import library_of, submissions_visible_to
from reviews.replies.api.replies import MessageOut
from reviews.replies.api.workbench import WorkbenchView
from reviews.replies.models import Result
from reviews.replies.schemas.stored import SeenOut
from reviews.replies.selectors.athlete_faults import faults_of
from reviews.replies.selectors.check_backs import due, to_check
from reviews.replies.selectors.last_cue import last_cue
from reviews.replies.selectors.open_threads import asked_back
from reviews.replies.selectors.told_faults import told_since
from reviews.replies.selectors.what_works import Tally, what_works


class AthleteFaultOut(serializers.Serializer[Any]):
    """One fault on one movement. ``result``: what was last said of it at a check-back, or empty."""

    name = serializers.CharField()
    movement = serializers.CharField()
    times = serializers.IntegerField()
    last = serializers.DateField()
    submission = serializers.UUIDField()
    result = serializers.ChoiceField(Result.choices, allow_blank=True)
    corrections = serializers.ListField(child=serializers.CharField())


class AthleteFaultsOut(serializers.Serializer[Any]):
    faults = AthleteFaultOut(many=True)


class TallyOut(serializers.Serializer[Any]):
    """``told`` outcomes, ``gone`` and ``better`` among them; ``unsure`` are beside them. ``low``
    and ``high``: the 95% interval of "gone" in percent (Wilson), null without an outcome."""

    name = serializers.CharField()
    told = serializers.IntegerField()
    gone = serializers.IntegerField()
    better = serializers.IntegerField()
    unsure = serializers.IntegerField()
    low = serializers.IntegerField(allow_null=True)
    high = serializers.IntegerField(allow_null=True)


class WhatWorksOut(serializers.Serializer[Any]):
    fault = TallyOut()
    cues = TallyOut(many=True)
    drills = TallyOut(many=True)


class ThreadOut(serializers.Serializer[Any]):
    submission = serializers.UUIDField()
    athlete = serializers.IntegerField()
    messages = MessageOut(many=True)


class ToFilmOut(serializers.Serializer[Any]):
    submission = serializers.UUIDField()
    athlete = serializers.IntegerField()
    by = serializers.DateField()
    said = serializers.ListField(child=serializers.CharField())


class AskedBackOut(serializers.Serializer[Any]):
    asked_back = ThreadOut(many=True)
    not_filmed = ToFilmOut(many=True)


class ReasonOut(serializers.Serializer[Any]):
    """``seen``: what the note said when the correction was made; null where it was made without
    one, or the question may not be read."""

    correction = serializers.UUIDField()
    said = serializers.CharField()
    made_by = serializers.CharField()
    submission = serializers.UUIDField(allow_null=True)
    seen = serializers.SerializerMethodField()

    @extend_schema_field(SeenOut(allow_null=True))
    def get_seen(self, row: dict[str, Any]) -> dict[str, Any] | None:
        return row["seen"]


class WhyOut(serializers.Serializer[Any]):
    reasons = ReasonOut(many=True)


class LastCueOut(serializers.Serializer[Any]):
    words = serializers.CharField()
    coach = serializers.CharField()
    submission = serializers.UUIDField()
    version = serializers.IntegerField(source="version.number")


class CueToLiftByOut(serializers.Serializer[Any]):
    """``cue``: null where no reply about the movement has one."""

    cue = LastCueOut(allow_null=True)


class ToldFaultOut(serializers.Serializer[Any]):
    day = serializers.DateField()
    name = serializers.CharField()
    movement = serializers.CharField()
    submission = serializers.UUIDField()


class ToldFaultsOut(serializers.Serializer[Any]):
    faults = ToldFaultOut(many=True)


class FromIn(serializers.Serializer[Any]):
    """``since``: the first day, the athlete's local date."""

    since = serializers.DateField()


class AthleteFaultsView(WorkbenchView):
    """Focus points of sent replies by fault and movement; open ones first, the latest first."""

    @operation_schema("replies", gives=AthleteFaultsOut)
    def get(self, request: Request, pk: int) -> Response:
        if not self.coach().is_coach:
            raise PermissionDenied("This is the coaches' tool.")
        athlete = get_object_or_404(athletes_coached_by(self.coach()), pk=pk)
        return Response(AthleteFaultsOut({"faults": faults_of(athlete)}).data)


class ToldFaultsView(WorkbenchView):
    """On which day a reply told the athlete of a fault, oldest first: beside the days' load."""

    @operation_schema("replies", gives=ToldFaultsOut, parameters=[FromIn])
    def get(self, request: Request, pk: int) -> Response:
        athlete = get_object_or_404(athletes_readable_by(signed_in(request)), pk=pk)
        sent = FromIn(data=request.query_params)
        sent.is_valid(raise_exception=True)
        told = told_since(athlete, sent.validated_data["since"])
        return Response(ToldFaultsOut({"faults": told}).data)


class CueView(WorkbenchView):
    """The cue to lift a movement by, from the newest of one's own replies about it."""

    @operation_schema("replies", gives=CueToLiftByOut)
    def get(self, request: Request, pk: int) -> Response:
        reader = signed_in(request)
        movement = get_object_or_404(movements_visible_to(reader), pk=pk)
        return Response(CueToLiftByOut({"cue": last_cue(athlete=reader, movement=movement)}).data)


class WhatWorksView(CoachesOnly):
    """How often the fault was gone at the check-back, by the cue and the drill that was sent: what
    coaches said, neither a trial nor a cause."""

    @operation_schema("library", gives=WhatWorksOut)
    def get(self, request: Request, pk: int) -> Response:
        found = what_works(get_object_or_404(library_of(signed_in(request)), pk=pk))
        return Response(
            {
                "fault": _tally(found.fault),
                "cues": [_tally(one) for one in found.cues],
                "drills": [_tally(one) for one in found.drills],
            }
        )


def _tally(one: Tally) -> dict[str, Any]:
    low, high = one.between if one.told else (None, None)
    names = ("name", "told", "gone", "better", "unsure")
    return {**{name: getattr(one, name) for name in names}, "low": low, "high": high}


class AskedBackView(CoachesOnly):
    """What athletes wrote below replies and nobody has answered, the longest wait first; and who
    was to film again by today."""

    @operation_schema("desk", gives=AskedBackOut)
    def get(self, request: Request) -> Response:
        coach = signed_in(request)
        checks = due(to_check(people_visible_to(coach)), today_of(coach))
        threads = [
            {
                "submission": one.submission.pk,
                "athlete": one.submission.athlete_id,
                "messages": one.messages,
            }
            for one in asked_back(coach)
        ]
        to_film = [
            {
                "submission": one.submission.pk,
                "athlete": one.submission.athlete_id,
                "by": one.by,
                "said": one.said,
            }
            for one in checks
        ]
        return Response(AskedBackOut({"asked_back": threads, "not_filmed": to_film}).data)


class WhyView(WorkbenchView):
    """Each running correction that changed a prescription, with the note it was made from."""

    @operation_schema("programmes", gives=WhyOut)
    def get(self, request: Request, pk: UUID) -> Response:
        reader = signed_in(request)
        mine = prescriptions_visible_to(reader).select_related("session__programme__athlete")
        found = why(get_object_or_404(mine, pk=pk)).select_related("made_by", "reason")
        seen = submissions_visible_to(reader).filter(correction_reasons__correction__in=found)
        readable = set(seen.values_list("pk", flat=True))
        reasons = []
        for one in found:
            reason = getattr(one, "reason", None)
            told = reason if reason is not None and reason.submission_id in readable else None
            reasons.append(
                {
                    "correction": one.pk,
                    "said": one.said,
                    "made_by": one.made_by.name if one.made_by else "",
                    "submission": told and told.submission_id,
                    "seen": told and told.seen,
                }
            )
        return Response(WhyOut({"reasons": reasons}).data)
