"""What the API says of a log as a file."""

from typing import Any

from rest_framework import serializers

from programming.logs.csv.columns import DATE_ORDERS, FIELDS
from programming.logs.csv.table import MOST_BYTES
from programming.logs.schemas import LOAD_CONFIRMED

COLUMN = serializers.ChoiceField(choices=list(FIELDS), allow_blank=True)


class ImportIn(serializers.Serializer[Any]):
    """``columns``: what each column tells, in order, empty for one that is left out; without it
    they are guessed from the headings, as ``dates`` and ``unit`` are. ``movements``: for a name in
    the file the id of a movement, or "new"."""

    text = serializers.CharField(max_length=MOST_BYTES, trim_whitespace=False)
    columns = serializers.ListField(child=COLUMN, max_length=100, required=False)
    dates = serializers.ChoiceField(choices=list(DATE_ORDERS), required=False)
    unit = serializers.ChoiceField(choices=["kg", "lb"], required=False)
    movements = serializers.DictField(child=serializers.CharField(max_length=20), default=dict)
    bring_in = serializers.BooleanField(default=False)
    load_confirmed = serializers.BooleanField(default=False, help_text=LOAD_CONFIRMED)


class ReadColumn(serializers.Serializer[Any]):
    heading = serializers.CharField()
    tells = COLUMN


class ReadError(serializers.Serializer[Any]):
    line = serializers.IntegerField()
    sentence = serializers.CharField()


class ReadMovement(serializers.Serializer[Any]):
    name = serializers.CharField()
    movement = serializers.CharField(help_text="The id of a movement, or new.")
    sets = serializers.IntegerField()


class ImportOut(serializers.Serializer[Any]):
    """How the file was read. ``sessions`` and ``body_weights`` are those that come, or came, in;
    ``left_out``: days that the log has a session on already."""

    columns = ReadColumn(many=True)
    dates = serializers.ChoiceField(choices=list(DATE_ORDERS))
    unit = serializers.ChoiceField(choices=["kg", "lb"])
    missing = serializers.ListField(child=serializers.CharField())
    unreadable = ReadError(many=True)
    more_unreadable = serializers.IntegerField()
    movements = ReadMovement(many=True)
    sessions = serializers.IntegerField()
    body_weights = serializers.IntegerField()
    left_out = serializers.ListField(child=serializers.DateField())
    is_in = serializers.BooleanField()
