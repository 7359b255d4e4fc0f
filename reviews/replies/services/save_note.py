"""Saving and taking away a note."""

from typing import Any
from uuid import UUID

from django.db import transaction

from athletes.models import User
from coachdesk.common.errors import NotFound
from reviews.intake.models import Submission
from reviews.library.merging import One, used_now
from reviews.library.models import Cue, Drill, Fault
from reviews.permissions import clips_reviewable_by
from reviews.replies.frame_times import check_frames
from reviews.replies.models import Note
from reviews.replies.permissions import NOT_HERE, clip_for_work


@transaction.atomic
def save_note(
    *,
    coach: User,
    note_id: UUID,
    clip_id: UUID,
    fault: Fault | None = None,
    cue: Cue | None = None,
    drill: Drill | None = None,
    cue_text: str | None = None,
    drill_text: str | None = None,
    **fields: Any,
) -> Note:
    """Make or change the note that the client named; saving twice makes one. One transaction.

    ``fields``: its others, first_frame and last_frame (inclusive) among them. The library's words
    are copied: an old note keeps what it said when the entry changes. ``cue_text`` and
    ``drill_text`` count only without an entry; None leaves what stands.

    Raises:
        NotFound: the clip, or the note already under this name, is not this coach's to change.
        Invalid: the moment does not lie on the clip.
        ClaimedByOther, NotClaimed: see `reviews.desk.claiming.extend`.
    """
    clip = clip_for_work(coach=coach, clip_id=clip_id)
    old = Note.objects.select_for_update(of=("self",)).select_related("clip").filter(pk=note_id)
    note = old.first() or Note(pk=note_id, author=coach)
    if not note._state.adding and note.clip.submission_id != clip.submission_id:
        raise NotFound(NOT_HERE)
    check_frames(clip, fields["first_frame"], fields["last_frame"])
    note.clip = clip
    for name, value in fields.items():
        setattr(note, name, value)
    _choose_entries(note, fault, cue, drill)
    if cue is None and cue_text is not None:
        note.cue_text = cue_text
    if drill is None and drill_text is not None:
        note.drill_text = drill_text
    note.save()
    return note


def _choose_entries(note: Note, fault: Fault | None, cue: Cue | None, drill: Drill | None) -> None:
    """Take an entry's words when it is chosen or dropped; otherwise the old ones stand."""
    fault = _chosen(note.fault_id, fault)
    cue, drill = _chosen(note.cue_id, cue), _chosen(note.drill_id, drill)
    if note.fault_id != _key(fault):
        note.fault_name = fault.name if fault else ""
    if note.cue_id != _key(cue):
        note.cue_text = cue.text if cue else ""
    if note.drill_id != _key(drill):
        note.drill_text = drill_with_dose(drill) if drill else ""
    note.fault, note.cue, note.drill = fault, cue, drill


def _chosen(standing: int | None, entry: One | None) -> One | None:
    """What a note names already stays. Otherwise the one that is used now: a palette that was read
    before a merge still offers the old one."""
    return entry if entry is None or entry.pk == standing else used_now(entry)


def _key(entry: Fault | Cue | Drill | None) -> int | None:
    return entry.pk if entry else None


def drill_with_dose(drill: Drill) -> str:
    """A drill with its dose, as the athlete reads it: "Pause squat, 3 × 4"."""
    return f"{drill.name}, {drill.dose}" if drill.dose else drill.name


@transaction.atomic
def delete_note(*, coach: User, note_id: UUID) -> Submission | None:
    """Take the note away; None when it is gone already. One transaction.

    Raises: as `save_note`, except Invalid.
    """
    note = Note.objects.filter(pk=note_id).first()
    if note is None:
        return None
    if not clips_reviewable_by(coach).filter(pk=note.clip_id).exists():
        raise NotFound(NOT_HERE)
    clip = clip_for_work(coach=coach, clip_id=note.clip_id)
    note.delete()
    return clip.submission
