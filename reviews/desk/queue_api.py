"""The queue over REST: what waits, the next one, handing over."""

from typing import Any
from uuid import UUID

from django.shortcuts import get_object_or_404
from drf_spectacular.utils import OpenApiParameter, extend_schema_field
from rest_framework import serializers
from rest_framework.exceptions import ValidationError
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.utils.urls import replace_query_param

from athletes.api import CoachesOnly
from athletes.permissions import people_visible_to, signed_in
from coachdesk.common.api.schema import list_schema, operation_schema
from coachdesk.common.errors import Invalid
from reviews.desk.claiming import claim_next, live_claim
from reviews.desk.handing import hand_over
from reviews.desk.models import Claim
from reviews.desk.queries import Section, in_queue_order, live_claims
from reviews.desk.queue_pages import part_of_queue, place_in
from reviews.desk.sifting import CHOICES, Sifted
from reviews.intake.models import Submission, Urgency
from reviews.permissions import submissions_reviewable_by


class ClaimOut(serializers.ModelSerializer[Claim]):
    coach = serializers.CharField(source="coach.name")

    class Meta:
        model = Claim
        fields = ["submission", "coach", "taken_at", "until"]


class WaitingOut(serializers.ModelSerializer[Submission]):
    section = serializers.SerializerMethodField()
    urgency = serializers.ChoiceField(Urgency.values)
    claim = serializers.SerializerMethodField()

    class Meta:
        model = Submission
        fields = ["id", "athlete", "question", "sent_at", "section", "urgency", "claim"]

    @extend_schema_field(serializers.ChoiceField([one.name.lower() for one in Section]))
    def get_section(self, row: Any) -> str:
        return Section(row.section).name.lower()

    def get_claim(self, row: Submission) -> str | None:
        held = self.context["claims"].get(row.pk)
        return held.coach.name if held else None


class HandIn(serializers.Serializer[Any]):
    to = serializers.IntegerField(min_value=1, max_value=2**31 - 1)


PARTS = [
    OpenApiParameter(name, enum=[value for value, _ in of], description="Only these.")
    for name, of in CHOICES.items()
]


def part_asked(request: Request) -> Sifted:
    """Raises ValidationError (400) for a word that is not offered: a page limits nothing by it, a
    program would take the whole queue for a part."""
    asked = {name: request.query_params[name] for name in CHOICES if name in request.query_params}
    sifted = Sifted.asked(asked)
    if wrong := asked.keys() - sifted.kept.keys():
        raise ValidationError(dict.fromkeys(wrong, "No such part."))
    return sifted


class DeskView(CoachesOnly):
    """What waits, in the order worth doing: warning signs and pain, what is due, the oldest."""

    @list_schema("desk", WaitingOut, operation_id="desk_list", parameters=PARTS)
    def get(self, request: Request) -> Response:
        coach = signed_in(request)
        after = place_in(request.query_params.get("cursor"))
        page = part_of_queue(in_queue_order(part_asked(request).waiting(coach)), after)
        told = WaitingOut(page.rows, many=True, context={"claims": live_claims(coach)})
        following = page.following and replace_query_param(
            request.build_absolute_uri(), "cursor", page.following
        )
        return Response({"next": following, "previous": None, "results": told.data})


class NextView(CoachesOnly):
    """POST claims the first free one of a part, or of all; 204 when none is free."""

    @operation_schema("desk", gives=ClaimOut, more_answers={204: None}, parameters=PARTS)
    def post(self, request: Request) -> Response:
        taken = claim_next(coach=signed_in(request), sifted=part_asked(request))
        return Response(ClaimOut(taken).data) if taken else Response(status=204)


class HandOverView(CoachesOnly):
    """POST gives the claim to another coach of the club, by the one who has it or an owner."""

    @operation_schema("desk", HandIn, ClaimOut)
    def post(self, request: Request, pk: UUID) -> Response:
        by = signed_in(request)
        submission = get_object_or_404(submissions_reviewable_by(by), pk=pk)
        sent = HandIn(data=request.data)
        sent.is_valid(raise_exception=True)
        to = get_object_or_404(people_visible_to(by), pk=sent.validated_data["to"])
        held = live_claim(submission)
        if held is None:
            raise Invalid("Nobody has it: claim it first.")
        given = hand_over(submission=submission, holder=held.coach, to=to, by=by)
        return Response(ClaimOut(given).data)
