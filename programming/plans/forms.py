"""Forms about programmes. They check shape; the use cases decide."""

from datetime import timedelta
from decimal import Decimal
from typing import Any

from django import forms

from athletes.local_time import today_of
from athletes.models import Unit, User
from coachdesk.common.errors import Invalid
from coachdesk.common.validators import validate_name
from programming.permissions import programmes_visible_to
from programming.plans.models import Step
from programming.plans.planning import MOST_WEEKS
from programming.plans.plates import read_pairs

WEEKDAYS = list(enumerate(("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")))


class Plain(forms.Form):
    """A form whose first trouble is told in one sentence."""

    seen = forms.IntegerField(min_value=1)

    @property
    def sentence(self) -> str:
        name, troubles = next(iter(self.errors.items()))
        label = self.fields[name].label or name.replace("_", " ") if name in self.fields else ""
        return f"{str(label).capitalize()}: {troubles[0]}" if label else str(troubles[0])


class DayField(forms.DateField):
    def __init__(self, **kwargs: Any) -> None:
        super().__init__(
            widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"), **kwargs
        )


class StartForm(forms.Form):
    """A programme for an athlete, from nothing or from a template; or (no athlete) a template."""

    name = forms.CharField(max_length=120, label="Name", initial="", validators=[validate_name])
    template: forms.ModelChoiceField = forms.ModelChoiceField(
        queryset=None, required=False, label="From a template", empty_label="Start empty"
    )
    starts_on = DayField(label="First day")
    weeks = forms.IntegerField(min_value=1, max_value=MOST_WEEKS, initial=4, label="Weeks")
    weekdays = forms.TypedMultipleChoiceField(
        choices=WEEKDAYS,
        coerce=int,
        required=False,
        label="Training days",
        widget=forms.CheckboxSelectMultiple,
        help_text="A template brings its own weeks and days.",
    )

    def __init__(self, *args: Any, by: User, athlete: User | None, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["template"].queryset = programmes_visible_to(by).filter(athlete=None)  # type: ignore[attr-defined]
        if athlete is None:
            del self.fields["template"], self.fields["starts_on"]
            self.fields["weekdays"].help_text = ""
            return
        today = today_of(athlete)
        monday = today + timedelta(days=(7 - today.weekday()) % 7)
        self.initial = {"starts_on": monday, "weekdays": [0, 2, 4], "weeks": 4}

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        if not cleaned.get("template") and not cleaned.get("weekdays") and not self.errors:
            self.add_error("weekdays", "Choose at least one training day.")
        return cleaned


class CopyForm(Plain):
    seen = forms.IntegerField(min_value=1, required=False)
    week = forms.IntegerField(min_value=1, max_value=MOST_WEEKS)
    to_week = forms.IntegerField(min_value=1, max_value=MOST_WEEKS)
    add = forms.DecimalField(
        min_value=-100, max_value=100, decimal_places=2, required=False, label="Added load"
    )


class SessionForm(Plain):
    session = forms.UUIDField()


class MoveForm(SessionForm):
    day = forms.DateField()


class DescribeForm(SessionForm):
    name = forms.CharField(max_length=80, required=False, validators=[validate_name])
    note = forms.CharField(max_length=1000, required=False)


class AddSessionForm(Plain):
    weekday = forms.TypedChoiceField(choices=WEEKDAYS, coerce=int)
    name = forms.CharField(max_length=80, required=False, validators=[validate_name])
    from_week = forms.IntegerField(min_value=1, max_value=MOST_WEEKS)


class WeekForm(Plain):
    week = forms.IntegerField(min_value=1, max_value=MOST_WEEKS)


class ShiftForm(Plain):
    from_day = forms.DateField()
    days = forms.IntegerField(min_value=-365, max_value=365)


class RowForm(Plain):
    row = forms.UUIDField()


class MovementForm(RowForm):
    session = forms.UUIDField()
    movement = forms.IntegerField()


class MoveRowForm(RowForm):
    up = forms.TypedChoiceField(choices=[("1", "up"), ("0", "down")], coerce=lambda v: v == "1")


class AddRowForm(SessionForm):
    movement = forms.IntegerField()
    text = forms.CharField(max_length=120, label="Dose")
    every_week = forms.BooleanField(required=False)


class RuleForm(RowForm):
    from_week = forms.IntegerField(min_value=1, max_value=MOST_WEEKS)
    step = forms.ChoiceField(choices=Step.choices)
    amount = forms.DecimalField(min_value=-100, max_value=100, decimal_places=2)
    unit = forms.ChoiceField(choices=Unit.choices)
    deload_every = forms.IntegerField(
        min_value=2, max_value=12, required=False, label="Easier week"
    )
    deload_percent = forms.DecimalField(
        min_value=Decimal(1), max_value=Decimal(99), decimal_places=2, label="Easier week"
    )


class NameForm(Plain):
    name = forms.CharField(max_length=120, required=False, validators=[validate_name])


class PlatesForm(forms.Form):
    """The bar and the pairs, in one unit. ``pairs`` is written like ``25x4, 20x1, 1.25x1``."""

    unit = forms.ChoiceField(choices=Unit.choices, label="Marked in", widget=forms.RadioSelect)
    bar = forms.DecimalField(
        min_value=Decimal("0.5"), max_value=Decimal(100), decimal_places=3, label="The bar weighs"
    )
    pairs = forms.CharField(
        max_length=300,
        label="Pairs of plates",
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
        help_text="One plate's weight, x, how many pairs: 25x4, 20x1, 10x1, 2.5x1.",
    )

    def clean_pairs(self) -> tuple[tuple[Decimal, int], ...]:
        try:
            return read_pairs(self.cleaned_data["pairs"])
        except Invalid as refusal:
            raise forms.ValidationError(str(refusal)) from None
