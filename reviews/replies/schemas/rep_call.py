"""The verdict on one rep: as the workbench saves and reads it, and as it was sent."""

from typing import Any

from rest_framework import serializers

from reviews.library.models import Fault
from reviews.replies.models import Call, RepCall
from reviews.replies.schemas.fields import FrameTimeField, LibraryEntryField, OpenChoiceField


class RepCallSchema(serializers.Serializer[RepCall]):
    """The faults that broke the rep are by their ids; where the rep lies may be left open."""

    clip = serializers.UUIDField(source="clip_id", read_only=True)
    rep = serializers.IntegerField(read_only=True)
    call = OpenChoiceField(Call.choices)
    faults = LibraryEntryField(queryset=Fault.objects.all(), many=True, default=list)
    first_frame = serializers.IntegerField(min_value=0, allow_null=True, default=None)
    last_frame = serializers.IntegerField(min_value=0, allow_null=True, default=None)


class SentRepCallSchema(serializers.ModelSerializer[RepCall]):
    faults: Any = serializers.SlugRelatedField(slug_field="name", many=True, read_only=True)
    fault_ids: Any = serializers.PrimaryKeyRelatedField(source="faults", many=True, read_only=True)
    seconds = FrameTimeField("first_frame")
    until = FrameTimeField("last_frame", is_end=True)

    class Meta:
        model = RepCall
        fields = [
            *("rep", "call", "faults", "fault_ids"),
            *("first_frame", "last_frame", "seconds", "until"),
        ]
        extra_kwargs = {"call": {"allow_blank": False}}
