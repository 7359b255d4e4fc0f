"""The shapes of JSON that was stored as it was said: versions of a reply, the note behind a
correction, a prescription before and after. They say in the document what `freezing`,
`services.apply_correction.seen_in` and `snapshots` write; nothing is read through them."""

from typing import Any

from rest_framework import serializers

from programming.movements.families import Phase
from programming.plans.models import TargetKind
from reviews.replies.models import Call, Result


class SnapshotOut(serializers.Serializer[Any]):
    """A prescription as plain values. A decimal is text."""

    movement_id = serializers.IntegerField(allow_null=True)
    sets = serializers.IntegerField()
    reps = serializers.IntegerField()
    target_kind = serializers.ChoiceField(TargetKind.choices, allow_blank=True)
    target = serializers.CharField(allow_null=True)
    unit = serializers.CharField()
    cap_percent = serializers.CharField(allow_null=True)
    held = serializers.BooleanField()
    tempo = serializers.CharField()
    rest_seconds = serializers.IntegerField(allow_null=True)
    note = serializers.CharField()


class SeenOut(serializers.Serializer[Any]):
    """What a note said. ``seconds``: where its first frame appears, null without a frame table."""

    clip = serializers.UUIDField()
    first_frame = serializers.IntegerField()
    last_frame = serializers.IntegerField()
    seconds = serializers.FloatField(allow_null=True)
    rep = serializers.IntegerField(allow_null=True)
    phase = serializers.ChoiceField(Phase.choices, allow_blank=True)
    fault = serializers.CharField()
    fault_id = serializers.IntegerField(allow_null=True)
    cue = serializers.CharField()
    cue_id = serializers.IntegerField(allow_null=True)
    drill = serializers.CharField()
    drill_id = serializers.IntegerField(allow_null=True)
    text = serializers.CharField()


class MomentOut(SeenOut):
    """A note that was sent. ``number``: its place among the focus points, null for the rest."""

    note = serializers.UUIDField()
    number = serializers.IntegerField(allow_null=True)
    until = serializers.FloatField(allow_null=True)


class SentCallOut(serializers.Serializer[Any]):
    rep = serializers.IntegerField()
    call = serializers.ChoiceField(Call.choices)
    faults = serializers.ListField(child=serializers.CharField())
    fault_ids = serializers.ListField(child=serializers.IntegerField())
    first_frame = serializers.IntegerField(allow_null=True)
    last_frame = serializers.IntegerField(allow_null=True)
    seconds = serializers.FloatField(allow_null=True)
    until = serializers.FloatField(allow_null=True)


class SentClipOut(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    position = serializers.IntegerField()
    movement = serializers.CharField()
    load_kg = serializers.CharField(allow_null=True)
    reps = serializers.IntegerField(allow_null=True)
    rpe = serializers.CharField(allow_null=True)
    view = serializers.CharField()
    seconds = serializers.FloatField(allow_null=True)
    calls = SentCallOut(many=True)


class FilmAgainOut(serializers.Serializer[Any]):
    by = serializers.DateField(allow_null=True)
    note = serializers.CharField()


class SentOutcomeOut(serializers.Serializer[Any]):
    note = serializers.UUIDField()
    number = serializers.IntegerField(allow_null=True)
    title = serializers.CharField()
    result = serializers.ChoiceField(Result.choices)


class SentCheckBackOut(serializers.Serializer[Any]):
    """``of``: the earlier submission; ``version``: of the reply that it follows."""

    of = serializers.UUIDField()
    version = serializers.IntegerField()
    outcomes = SentOutcomeOut(many=True)


class ChangedSessionOut(serializers.Serializer[Any]):
    day = serializers.DateField()
    before = serializers.CharField(allow_null=True)
    after = serializers.CharField()


class ChangeOut(serializers.Serializer[Any]):
    correction = serializers.UUIDField()
    note = serializers.UUIDField(allow_null=True)
    fault = serializers.CharField()
    said = serializers.CharField()
    check_back_on = serializers.DateField(allow_null=True)
    sessions = ChangedSessionOut(many=True)


class ContentOut(serializers.Serializer[Any]):
    """A version as it was sent. It never changes."""

    format = serializers.IntegerField()
    coach = serializers.CharField()
    question = serializers.CharField()
    opening = serializers.CharField()
    pain = serializers.BooleanField()
    film_again = FilmAgainOut()
    clips = SentClipOut(many=True)
    points = MomentOut(many=True)
    rest = MomentOut(many=True)
    check_back = SentCheckBackOut(allow_null=True)
    changes = ChangeOut(many=True)
