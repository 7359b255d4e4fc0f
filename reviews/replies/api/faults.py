"""What the pages know beside a reply: an athlete's faults, what works, and the cue to lift by."""

from django.shortcuts import get_object_or_404
from rest_framework.exceptions import PermissionDenied
from rest_framework.request import Request
from rest_framework.response import Response

from athletes.api import CoachesOnly
from athletes.permissions import signed_in
from coachdesk.common.api.schema import operation_schema
from programming.permissions import (
    athletes_coached_by,
    athletes_readable_by,
    movements_visible_to,
)
from reviews.permissions import library_of
from reviews.replies.api.workbench import WorkbenchView
from reviews.replies.schemas.fault import (
    AthleteFaultsSchema,
    CueToLiftBySchema,
    SentFaultsSchema,
    SinceSchema,
    WhatWorksSchema,
)
from reviews.replies.selectors.athlete_faults import athlete_faults, faults_sent_since
from reviews.replies.selectors.last_cue import last_cue
from reviews.replies.selectors.what_works import what_works


class AthleteFaultsView(WorkbenchView):
    """Focus points of sent replies by fault and movement; open ones first, the latest first."""

    @operation_schema("replies", gives=AthleteFaultsSchema)
    def get(self, request: Request, pk: int) -> Response:
        if not self.coach().is_coach:
            raise PermissionDenied("This is the coaches' tool.")
        athlete = get_object_or_404(athletes_coached_by(self.coach()), pk=pk)
        return Response(AthleteFaultsSchema({"faults": athlete_faults(athlete)}).data)


class SentFaultsView(WorkbenchView):
    """On which day a reply told the athlete of a fault, oldest first: beside the days' load."""

    @operation_schema("replies", gives=SentFaultsSchema, parameters=[SinceSchema])
    def get(self, request: Request, pk: int) -> Response:
        athlete = get_object_or_404(athletes_readable_by(signed_in(request)), pk=pk)
        query = SinceSchema(data=request.query_params)
        query.is_valid(raise_exception=True)
        faults = faults_sent_since(athlete, query.validated_data["since"])
        return Response(SentFaultsSchema({"faults": faults}).data)


class LastCueView(WorkbenchView):
    """The cue to lift a movement by, from the newest of one's own replies about it."""

    @operation_schema("replies", gives=CueToLiftBySchema)
    def get(self, request: Request, pk: int) -> Response:
        reader = signed_in(request)
        movement = get_object_or_404(movements_visible_to(reader), pk=pk)
        cue = last_cue(athlete=reader, movement=movement)
        return Response(CueToLiftBySchema({"cue": cue}).data)


class WhatWorksView(CoachesOnly):
    """How often the fault was gone at the check-back, by the cue and the drill that was sent: what
    coaches said, neither a trial nor a cause."""

    @operation_schema("library", gives=WhatWorksSchema)
    def get(self, request: Request, pk: int) -> Response:
        fault = get_object_or_404(library_of(signed_in(request)), pk=pk)
        return Response(WhatWorksSchema(what_works(fault)).data)
