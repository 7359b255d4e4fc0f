"""What replies said of an athlete's faults, and what works against a fault."""

from typing import Any

from rest_framework import serializers

from reviews.replies.models import Result
from reviews.replies.selectors.what_works import Tally


class AthleteFaultSchema(serializers.Serializer[Any]):
    """One fault on one movement. ``result``: what was last said of it at a check-back, or empty."""

    name = serializers.CharField()
    movement = serializers.CharField()
    times = serializers.IntegerField()
    last = serializers.DateField()
    submission = serializers.UUIDField()
    result = serializers.ChoiceField(Result.choices, allow_blank=True)
    corrections = serializers.ListField(child=serializers.CharField())


class AthleteFaultsSchema(serializers.Serializer[Any]):
    faults = AthleteFaultSchema(many=True)


class SentFaultSchema(serializers.Serializer[Any]):
    day = serializers.DateField()
    name = serializers.CharField()
    movement = serializers.CharField()
    submission = serializers.UUIDField()


class SentFaultsSchema(serializers.Serializer[Any]):
    faults = SentFaultSchema(many=True)


class SinceSchema(serializers.Serializer[Any]):
    """``since``: the first day, the athlete's local date."""

    since = serializers.DateField()


class TallySchema(serializers.Serializer[Tally]):
    """``told`` outcomes, ``gone`` and ``better`` among them; ``unsure`` are beside them. ``low``
    and ``high``: the 95% interval of "gone" in percent (Wilson), null without an outcome."""

    name = serializers.CharField()
    told = serializers.IntegerField()
    gone = serializers.IntegerField()
    better = serializers.IntegerField()
    unsure = serializers.IntegerField()
    low = serializers.IntegerField(allow_null=True)
    high = serializers.IntegerField(allow_null=True)


class WhatWorksSchema(serializers.Serializer[Any]):
    fault = TallySchema()
    cues = TallySchema(many=True)
    drills = TallySchema(many=True)


class LastCueSchema(serializers.Serializer[Any]):
    words = serializers.CharField()
    coach = serializers.CharField()
    submission = serializers.UUIDField()
    version = serializers.IntegerField(source="version.number")


class CueToLiftBySchema(serializers.Serializer[Any]):
    """``cue``: null where no reply about the movement has one."""

    cue = LastCueSchema(allow_null=True)
