"""Arranging a programme from its page: one address, the deed named by the button."""

from collections.abc import Callable
from typing import Any
from urllib.parse import urlencode
from uuid import UUID

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.views.decorators.http import require_POST

from athletes.models import User
from athletes.permissions import coach_required, signed_in
from coachdesk.common.errors import DomainError, Invalid
from programming.models import Movement
from programming.permissions import movements_visible_to, programmes_editable_by
from programming.plans import (
    copying,
    forms,
    planning,
    prescribing,
    progressing,
    shifting,
    templating,
)
from programming.plans.grid import unit_for
from programming.plans.models import Programme
from programming.plans.undo import record_change, undo_change

Told = dict[str, Any]
Deed = Callable[[User, Programme, Told], str]  # gives the sentence that says it is done


@coach_required
@require_POST
def change(request: HttpRequest, pk: UUID) -> HttpResponse:
    """Do what the button says and come back to the grid, with a sentence either way."""
    user = signed_in(request)
    programme = get_object_or_404(programmes_editable_by(user), pk=pk)
    action = request.POST.get("do", "")
    if action not in DEEDS:
        raise Http404
    form = DEEDS[action][0](request.POST)
    try:
        if not form.is_valid():
            raise Invalid(form.sentence)
        messages.success(request, arrange(user, programme, action, form.cleaned_data))
    except DomainError as refusal:
        messages.error(request, str(refusal))
    if not Programme.objects.filter(pk=pk).exists():
        return redirect("programmes")
    picked = urlencode({"pick": request.POST.get("pick", "")[:80]})
    return redirect(f"{reverse('programme-grid', args=[pk])}?{picked}")


def arrange(by: User, programme: Programme, action: str, data: Told) -> str:
    """One of `DEEDS`, kept so that it can be undone; gives the sentence that says it is done."""
    deed = DEEDS[action][1]
    if action == UNDO:
        return deed(by, programme, data)
    return record_change(programme=programme, by=by, change=lambda: deed(by, programme, data))


def _movement(by: User, pk: int) -> Movement:
    found = movements_visible_to(by).filter(pk=pk).first()
    if found is None:
        raise Invalid("Choose a movement of the list.")
    return found


def add_session(by: User, programme: Programme, told: Told) -> str:
    new = planning.add_session(programme=programme, **told)
    return f"Added to {len(new)} {'week' if len(new) == 1 else 'weeks'}."


def move_session(by: User, programme: Programme, told: Told) -> str:
    moved = planning.move_session(programme=programme, **told)
    return f"Moved to {moved.day:%a} {told['day'].day} {moved.day:%b}."


def describe_session(by: User, programme: Programme, told: Told) -> str:
    planning.describe_session(programme=programme, **told)
    return "Saved."


def copy_session(by: User, programme: Programme, told: Told) -> str:
    new = copying.copy_session(programme=programme, **told)
    return f"Copied to {new.day:%a} {told['day'].day} {new.day:%b}."


def delete_session(by: User, programme: Programme, told: Told) -> str:
    planning.delete_session(programme=programme, **told)
    return "The session is out of the programme."


def copy_week(by: User, programme: Programme, told: Told) -> str:
    told["add"] = told["add"] or 0
    copying.copy_week(programme=programme, unit=unit_for(programme, by), **told)
    return f"Week {told['week']} is placed as week {told['to_week']}."


def delete_week(by: User, programme: Programme, told: Told) -> str:
    planning.delete_week(programme=programme, **told)
    return f"Week {told['week']} is out of the programme."


def shift(by: User, programme: Programme, told: Told) -> str:
    number = shifting.shift(programme=programme, **told)
    return f"{number} {'session' if number == 1 else 'sessions'} moved by {told['days']} days."


def add_row(by: User, programme: Programme, told: Told) -> str:
    told["movement"] = _movement(by, told["movement"])
    prescribing.add_row(programme=programme, unit=unit_for(programme, by), **told)
    return f"{told['movement']} is in the programme."


def change_movement(by: User, programme: Programme, told: Told) -> str:
    told["movement"] = _movement(by, told["movement"])
    number = prescribing.change_movement(programme=programme, **told)
    return f"{told['movement']} in {number} {'week' if number == 1 else 'weeks'}."


def move_row(by: User, programme: Programme, told: Told) -> str:
    prescribing.move_row(programme=programme, **told)
    return "Moved, in the sessions to come."


def set_rule(by: User, programme: Programme, told: Told) -> str:
    seen, row = told.pop("seen"), told.pop("row")
    wanted = progressing.Wanted(**told)
    progressing.set_rule(programme=programme, seen=seen, row=row, wanted=wanted)
    return "The weeks to come follow the rule."


def drop_rule(by: User, programme: Programme, told: Told) -> str:
    progressing.drop_rule(programme=programme, **told)
    return "The rule is gone; the numbers stay."


def save_template(by: User, programme: Programme, told: Told) -> str:
    template = templating.save_as_template(by=by, programme=programme, name=told["name"])
    return f"Kept as the template {template}."


def end(by: User, programme: Programme, told: Told) -> str:
    if programme.athlete_id is None:
        templating.delete_template(template=programme)
        return f"The template {programme} is gone. Programmes made from it stay."
    planning.end_programme(programme=programme, seen=told["seen"])
    return f"{programme} has ended. It can still be read."


def undo(by: User, programme: Programme, told: Told) -> str:
    return f"Undone: {undo_change(programme=programme, **told).label}"


UNDO = "undo"
DEEDS: dict[str, tuple[type[forms.Plain], Deed]] = {
    "add-session": (forms.AddSessionForm, add_session),
    "move-session": (forms.MoveForm, move_session),
    "describe-session": (forms.DescribeForm, describe_session),
    "copy-session": (forms.MoveForm, copy_session),
    "delete-session": (forms.SessionForm, delete_session),
    "copy-week": (forms.CopyForm, copy_week),
    "delete-week": (forms.WeekForm, delete_week),
    "shift": (forms.ShiftForm, shift),
    "add-row": (forms.AddRowForm, add_row),
    "change-movement": (forms.MovementForm, change_movement),
    "move-row": (forms.MoveRowForm, move_row),
    "set-rule": (forms.RuleForm, set_rule),
    "drop-rule": (forms.RowForm, drop_rule),
    UNDO: (forms.Plain, undo),
    "save-template": (forms.NameForm, save_template),
    "end": (forms.NameForm, end),
}
