"""What a button of the programme's page does, by its name; the API does the same."""

from collections.abc import Callable
from decimal import Decimal
from typing import Any

from rest_framework import serializers

from athletes.models import Unit, User
from coachdesk.common.api.form_serializers import MAX_INT
from coachdesk.common.errors import Invalid
from coachdesk.common.validators import validate_name
from programming.models import Movement
from programming.permissions import movements_visible_to
from programming.plans.models import Programme, Step
from programming.plans.selectors.programme_grid import unit_for
from programming.plans.services import (
    arrange_sessions,
    copy_sessions,
    set_progression,
    write_prescriptions,
)
from programming.plans.services import (
    save_template as templates,
)
from programming.plans.services.arrange_sessions import MOST_DAYS, MOST_WEEKS
from programming.plans.services.undo_change import record_change, undo_change

Data = dict[str, Any]
Action = Callable[[User, Programme, Data], str]  # gives the sentence that says it is done


NOT_LISTED = "Choose a movement of the list."
WEEK: dict[str, Any] = {"min_value": 1, "max_value": MOST_WEEKS}
MOVEMENT: dict[str, Any] = {
    "min_value": 1,
    "max_value": MAX_INT,
    "error_messages": {"min_value": NOT_LISTED},
}
NO_DAY: dict[str, Any] = {"invalid": "Enter a valid date."}
NAME: dict[str, Any] = {"validators": [validate_name], "allow_blank": True, "default": ""}


class OneSentence(serializers.Serializer[Any]):
    """What a page says of a request that is wrong, in one sentence."""

    @property
    def sentence(self) -> str:
        """The first trouble, with the field it is about."""
        name, troubles = next(iter(self.errors.items()))
        return f"{self.fields[name].label}: {troubles[0]}"


class ActionIn(OneSentence):
    """``seen``: the revision of the programme that the page shows."""

    seen = serializers.IntegerField(min_value=1, max_value=MAX_INT)


class SessionIn(ActionIn):
    session = serializers.UUIDField()


class MoveSessionIn(SessionIn):
    day = serializers.DateField(error_messages=NO_DAY)


class DescribeSessionIn(SessionIn):
    name = serializers.CharField(max_length=80, **NAME)
    note = serializers.CharField(max_length=1000, allow_blank=True, default="")


class AddSessionIn(ActionIn):
    weekday = serializers.ChoiceField([str(day) for day in range(7)])
    name = serializers.CharField(max_length=80, **NAME)
    from_week = serializers.IntegerField(**WEEK)


class CopyWeekIn(OneSentence):
    week = serializers.IntegerField(**WEEK)
    to_week = serializers.IntegerField(**WEEK)
    add = serializers.DecimalField(
        max_digits=5, decimal_places=2, min_value=-100, max_value=100,
        allow_null=True, default=None, label="Added load",
    )  # fmt: skip

    def validate_add(self, add: Decimal | None) -> Decimal:
        return add or Decimal(0)


class PlaceWeekIn(CopyWeekIn, ActionIn):
    pass


class WeekIn(ActionIn):
    week = serializers.IntegerField(**WEEK)


class ShiftIn(ActionIn):
    from_day = serializers.DateField(error_messages=NO_DAY)
    days = serializers.IntegerField(min_value=-MOST_DAYS, max_value=MOST_DAYS)


class RowIn(ActionIn):
    row = serializers.UUIDField()


class ChangeMovementIn(RowIn):
    session = serializers.UUIDField()
    movement = serializers.IntegerField(**MOVEMENT)


class MoveRowIn(RowIn):
    up = serializers.ChoiceField([("1", "up"), ("0", "down")])


class AddRowIn(SessionIn):
    movement = serializers.IntegerField(**MOVEMENT)
    text = serializers.CharField(max_length=120, label="Dose")
    every_week = serializers.BooleanField(default=False)


class SetRuleIn(RowIn):
    from_week = serializers.IntegerField(**WEEK)
    step = serializers.ChoiceField(Step.choices)
    amount = serializers.DecimalField(max_digits=5, decimal_places=2, min_value=-100, max_value=100)
    unit = serializers.ChoiceField(Unit.choices)
    deload_every = serializers.IntegerField(
        min_value=2, max_value=12, allow_null=True, default=None, label="Easier week"
    )
    deload_percent = serializers.DecimalField(
        max_digits=4, decimal_places=2, min_value=1, max_value=99, label="Easier week"
    )


class NameIn(ActionIn):
    name = serializers.CharField(max_length=120, **NAME)


def arrange(by: User, programme: Programme, action: str, data: Data) -> str:
    """One of `ACTIONS`, kept so that it can be undone; gives the sentence that says it is done."""
    run = ACTIONS[action][1]
    if action == UNDO:
        return run(by, programme, data)
    return record_change(programme=programme, by=by, change=lambda: run(by, programme, data))


def _movement(by: User, pk: int) -> Movement:
    found = movements_visible_to(by).filter(pk=pk).first()
    if found is None:
        raise Invalid(NOT_LISTED)
    return found


def add_session(by: User, programme: Programme, data: Data) -> str:
    data["weekday"] = int(data["weekday"])
    new = arrange_sessions.add_session(programme=programme, **data)
    return f"Added to {len(new)} {'week' if len(new) == 1 else 'weeks'}."


def move_session(by: User, programme: Programme, data: Data) -> str:
    moved = arrange_sessions.move_session(programme=programme, **data)
    return f"Moved to {moved.day:%a} {data['day'].day} {moved.day:%b}."


def describe_session(by: User, programme: Programme, data: Data) -> str:
    arrange_sessions.describe_session(programme=programme, **data)
    return "Saved."


def copy_session(by: User, programme: Programme, data: Data) -> str:
    new = copy_sessions.copy_session(programme=programme, **data)
    return f"Copied to {new.day:%a} {data['day'].day} {new.day:%b}."


def delete_session(by: User, programme: Programme, data: Data) -> str:
    arrange_sessions.delete_session(programme=programme, **data)
    return "The session is out of the programme."


def copy_week(by: User, programme: Programme, data: Data) -> str:
    copy_sessions.copy_week(programme=programme, unit=unit_for(programme, by), **data)
    return f"Week {data['week']} is placed as week {data['to_week']}."


def delete_week(by: User, programme: Programme, data: Data) -> str:
    arrange_sessions.delete_week(programme=programme, **data)
    return f"Week {data['week']} is out of the programme."


def shift(by: User, programme: Programme, data: Data) -> str:
    number = arrange_sessions.shift_sessions(programme=programme, **data)
    return f"{number} {'session' if number == 1 else 'sessions'} moved by {data['days']} days."


def add_row(by: User, programme: Programme, data: Data) -> str:
    data["movement"] = _movement(by, data["movement"])
    write_prescriptions.add_row(programme=programme, unit=unit_for(programme, by), **data)
    return f"{data['movement']} is in the programme."


def change_movement(by: User, programme: Programme, data: Data) -> str:
    data["movement"] = _movement(by, data["movement"])
    number = write_prescriptions.change_movement(programme=programme, **data)
    return f"{data['movement']} in {number} {'week' if number == 1 else 'weeks'}."


def move_row(by: User, programme: Programme, data: Data) -> str:
    data["up"] = data["up"] == "1"
    write_prescriptions.move_row(programme=programme, **data)
    return "Moved, in the sessions to come."


def set_rule(by: User, programme: Programme, data: Data) -> str:
    seen, row = data.pop("seen"), data.pop("row")
    wanted = set_progression.Wanted(**data)
    set_progression.set_rule(programme=programme, seen=seen, row=row, wanted=wanted)
    return "The weeks to come follow the rule."


def drop_rule(by: User, programme: Programme, data: Data) -> str:
    set_progression.drop_rule(programme=programme, **data)
    return "The rule is gone; the numbers stay."


def save_template(by: User, programme: Programme, data: Data) -> str:
    template = templates.save_as_template(by=by, programme=programme, name=data["name"])
    return f"Kept as the template {template}."


def end(by: User, programme: Programme, data: Data) -> str:
    if programme.athlete_id is None:
        templates.delete_template(template=programme)
        return f"The template {programme} is gone. Programmes made from it stay."
    arrange_sessions.end_programme(programme=programme, seen=data["seen"])
    return f"{programme} has ended. It can still be read."


def undo(by: User, programme: Programme, data: Data) -> str:
    return f"Undone: {undo_change(programme=programme, **data).label}"


UNDO = "undo"
ACTIONS: dict[str, tuple[type[ActionIn], Action]] = {
    "add-session": (AddSessionIn, add_session),
    "move-session": (MoveSessionIn, move_session),
    "describe-session": (DescribeSessionIn, describe_session),
    "copy-session": (MoveSessionIn, copy_session),
    "delete-session": (SessionIn, delete_session),
    "copy-week": (PlaceWeekIn, copy_week),
    "delete-week": (WeekIn, delete_week),
    "shift": (ShiftIn, shift),
    "add-row": (AddRowIn, add_row),
    "change-movement": (ChangeMovementIn, change_movement),
    "move-row": (MoveRowIn, move_row),
    "set-rule": (SetRuleIn, set_rule),
    "drop-rule": (RowIn, drop_rule),
    UNDO: (ActionIn, undo),
    "save-template": (NameIn, save_template),
    "end": (NameIn, end),
}
