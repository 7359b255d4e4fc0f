"""Setting a max by hand. The form checks shape; the use case decides."""

from decimal import Decimal
from typing import Any

from django import forms

from athletes.local_time import today_of
from athletes.models import User
from coachdesk.common.units import to_kg
from programming.logs.models import MaxKind


class SetMaxForm(forms.Form):
    """``load`` is in the unit of whoever types it."""

    kind = forms.ChoiceField(
        choices=[("technical", "Technical max"), ("best", "Best max")],
        widget=forms.RadioSelect,
        label="Which",
        initial=MaxKind.TECHNICAL,
    )
    load = forms.DecimalField(max_digits=7, decimal_places=2, min_value=Decimal("0.5"))
    day = forms.DateField(
        label="Counts from",
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        help_text="A set of a later day that says more takes its place.",
    )
    reason = forms.CharField(
        max_length=300,
        label="Why",
        help_text="Such as: third attempt at Saturday's meet. It stays beside the number.",
    )

    load_in_question = ""  # as it was typed

    def __init__(self, *args: Any, by: User, athlete: User, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.unit = by.unit
        self.fields["load"].label = f"Max in {by.unit}"
        self.fields["load"].widget.attrs["inputmode"] = "decimal"
        self.fields["day"].initial = today_of(athlete)

    def ask(self, question: str) -> None:
        """Beside the load, with a box whose tick answers for this load and no other."""
        self.add_error("load", question)
        self.load_in_question = self.data["load"].strip()

    @property
    def max_data(self) -> dict[str, Any]:
        """What `set_max` takes."""
        facts = dict(self.cleaned_data)
        kg = to_kg(facts.pop("load"), self.unit)
        confirmed = self.data.get("load_confirmed") == self.data["load"].strip()
        return {**facts, "kg": kg, "unit": self.unit, "load_confirmed": confirmed}
