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
from programming.plans.plates import HEAVIEST_BAR, LIGHTEST_BAR, read_pairs
from programming.plans.services.arrange_sessions import MOST_WEEKS

WEEKDAYS = list(enumerate(("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")))


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


class PlatesForm(forms.Form):
    """The bar and the pairs, in one unit. ``pairs`` is written like ``25x4, 20x1, 1.25x1``."""

    unit = forms.ChoiceField(choices=Unit.choices, label="Marked in", widget=forms.RadioSelect)
    bar = forms.DecimalField(
        min_value=LIGHTEST_BAR, max_value=HEAVIEST_BAR, decimal_places=3, label="The bar weighs"
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
