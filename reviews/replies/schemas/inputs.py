"""What the workbench sends. Names of library entries are looked up in the coach's own club."""

from typing import Any

from rest_framework import serializers

from athletes.permissions import signed_in
from programming.movements.families import Phase
from reviews.library.models import Cue, Drill, Fault
from reviews.replies.models import Call
from reviews.replies.services.call_rep import MOST_REPS, Verdict
from reviews.replies.services.save_note import Seen


class _OfClub(serializers.PrimaryKeyRelatedField):
    """An entry of the coach's club; any other is unknown."""

    def get_queryset(self) -> Any:
        entries = super().get_queryset()
        assert entries is not None  # each field below names its own
        return entries.filter(club_id=signed_in(self.context["request"]).club_id)


class NoteIn(serializers.Serializer):
    clip = serializers.UUIDField()
    first_frame = serializers.IntegerField(min_value=0)
    last_frame = serializers.IntegerField(min_value=0)
    phase = serializers.ChoiceField(Phase.choices, allow_null=True, allow_blank=True, default="")
    rep = serializers.IntegerField(
        min_value=1, max_value=MOST_REPS, allow_null=True, required=False, default=None
    )
    text = serializers.CharField(allow_blank=True, default="", max_length=4000)
    fault = _OfClub(queryset=Fault.objects.all(), allow_null=True, default=None)
    cue = _OfClub(queryset=Cue.objects.all(), allow_null=True, default=None)
    drill = _OfClub(queryset=Drill.objects.all(), allow_null=True, default=None)
    cue_text = serializers.CharField(
        allow_null=True, allow_blank=True, default=None, max_length=120
    )
    drill_text = serializers.CharField(
        allow_null=True, allow_blank=True, default=None, max_length=260
    )
    rank = serializers.IntegerField(
        min_value=1, max_value=99, allow_null=True, required=False, default=None
    )

    def seen(self) -> Seen:
        data = self.validated_data
        return Seen(**{**data, "phase": data["phase"] or ""})


class RepCallIn(serializers.Serializer):
    call = serializers.ChoiceField(Call.choices, allow_null=True, allow_blank=True, default="")
    faults = _OfClub(queryset=Fault.objects.all(), many=True, default=list)
    first_frame = serializers.IntegerField(min_value=0, allow_null=True, default=None)
    last_frame = serializers.IntegerField(min_value=0, allow_null=True, default=None)

    def verdict(self) -> Verdict:
        data = self.validated_data
        return Verdict(**{**data, "call": data["call"] or ""})


class ReplyIn(serializers.Serializer):
    """Every field may be left out: only what is sent is saved."""

    opening = serializers.CharField(allow_blank=True, required=False, max_length=8000)
    film_again_by = serializers.DateField(allow_null=True, required=False)
    film_again_note = serializers.CharField(allow_blank=True, required=False, max_length=2000)
    ranks = serializers.ListField(child=serializers.UUIDField(), required=False, max_length=99)
