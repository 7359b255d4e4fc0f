"""A note: as the workbench saves and reads it, and as it is kept for good."""

from typing import Any

from rest_framework import serializers

from programming.movements.families import Phase
from reviews.library.models import Cue, Drill, Fault
from reviews.replies.frame_times import clock_of
from reviews.replies.models import Note
from reviews.replies.models.rep_call import MAX_REPS
from reviews.replies.schemas.fields import (
    FrameTimeField,
    LibraryEntryField,
    OpenChoiceField,
    OwnWordsField,
    StrippedField,
)


class NoteSchema(serializers.Serializer[Note]):
    """Frames are inclusive; entries of the library are by their ids. ``cue_text`` and
    ``drill_text`` count only without an entry; null or left out, what stands stays."""

    id = serializers.UUIDField(read_only=True)
    clip = serializers.UUIDField(source="clip_id")
    first_frame = serializers.IntegerField(min_value=0)
    last_frame = serializers.IntegerField(min_value=0)
    phase = OpenChoiceField(Phase.choices)
    rep = serializers.IntegerField(min_value=1, max_value=MAX_REPS, allow_null=True, default=None)
    text = serializers.CharField(allow_blank=True, default="", max_length=4000)
    fault = LibraryEntryField(queryset=Fault.objects.all(), allow_null=True, default=None)
    fault_name = serializers.CharField(read_only=True)
    cue = LibraryEntryField(queryset=Cue.objects.all(), allow_null=True, default=None)
    cue_text = OwnWordsField(max_length=120)
    drill = LibraryEntryField(queryset=Drill.objects.all(), allow_null=True, default=None)
    drill_text = OwnWordsField(max_length=260)
    rank = serializers.IntegerField(min_value=1, max_value=99, allow_null=True, default=None)


class KeptNoteSchema(serializers.Serializer[Note]):
    """What a note says, as a correction keeps it: in words and seconds, to be read when the note,
    its clip and the library's entries are gone or say something else."""

    clip = serializers.UUIDField(source="clip_id")
    first_frame = serializers.IntegerField()
    last_frame = serializers.IntegerField()
    seconds = FrameTimeField("first_frame")
    rep = serializers.IntegerField(allow_null=True)
    phase = serializers.ChoiceField(Phase.choices, allow_blank=True)
    text = StrippedField()
    fault = serializers.CharField(source="fault_name")
    fault_id = serializers.IntegerField(allow_null=True)
    cue = serializers.CharField(source="cue_text")
    cue_id = serializers.IntegerField(allow_null=True)
    drill = serializers.CharField(source="drill_text")
    drill_id = serializers.IntegerField(allow_null=True)


def kept_note(note: Note) -> dict[str, Any]:
    clocks = {note.clip_id: clock_of(note.clip)}
    return dict(KeptNoteSchema(note, context={"clocks": clocks}).data)


class SentNoteSchema(KeptNoteSchema):
    """A note that was sent. ``number``: its place among the focus points, null for the rest."""

    note = serializers.UUIDField(source="pk")
    number = serializers.SerializerMethodField()
    until = FrameTimeField("last_frame", is_end=True)

    def get_number(self, note: Note) -> int | None:
        number: int | None = self.context["numbers"].get(note.pk)
        return number
