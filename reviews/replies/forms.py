"""The correction page's form: what all kinds share, and the fields of each kind."""

from datetime import date
from decimal import Decimal
from typing import Any

from django import forms
from django.db.models import QuerySet

from coachdesk.common.errors import Invalid
from coachdesk.common.validators import validate_name
from programming.corrections.requests import Wish
from programming.limits import CAP_PERCENT
from programming.models import Movement
from programming.plans.models import TargetKind
from programming.plans.models.correction import Kind, Place
from programming.plans.notation import read_with_words
from reviews.library.forms import dress
from reviews.library.models import Drill
from reviews.replies.services.read_correction import (
    MAX_NOTE,
    WEEKS,
    read_correction,
)

WHAT = {
    Kind.ADD_DRILL: "A dose of something else beside the lift.",
    Kind.SWAP: "Same place in the week, another variant with its own max.",
    Kind.CAP: "Nothing heavier than a share of the technical max.",
    Kind.REBUILD: "The technique changes so much that its max starts from nothing.",
    Kind.DOSE: "Sets, reps, target, tempo or rest; the movement stays.",
    Kind.HOLD: "Left out of the sessions for a while.",
}
TARGETS = [
    ("", "as it is"),
    (TargetKind.TECHNICAL, "% of technical max"),
    (TargetKind.BEST, "% of best max"),
    (TargetKind.RPE, "RPE"),
    (TargetKind.RIR, "reps in reserve"),
    (TargetKind.KG, "load"),
]


class Shared(forms.Form):
    """What is to change, for how long, and when to look again."""

    kind = forms.ChoiceField(choices=Kind.choices)
    movement = forms.ModelChoiceField(
        queryset=Movement.objects.none(),
        empty_label=None,
        error_messages={"required": "Choose the movement that is to change."},
    )
    weeks = forms.TypedChoiceField(
        choices=[(weeks, f"{weeks} week{'s' if weeks > 1 else ''}") for weeks in WEEKS],
        coerce=int,
        initial=4,
        label="For",
    )
    check_back_on = forms.DateField(
        required=False,
        label="Check back by",
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        error_messages={"invalid": "A day such as 2026-12-04."},
    )
    leave_clashes = forms.BooleanField(
        required=False, label="Leave those as they are and change the rest"
    )

    def __init__(
        self, *args: Any, movements: QuerySet[Movement], today: date, **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self.fields["movement"].queryset = movements  # type: ignore[attr-defined]
        self.fields["check_back_on"].widget.attrs["min"] = today.isoformat()
        self.today = today
        for field in self.fields.values():
            dress(field)


class Part(forms.Form):
    """The fields of one kind; hidden until it is chosen, so none is required by the browser."""

    kind: Kind
    use_required_attribute = False

    def __init__(self, *args: Any, movements: QuerySet[Movement], **kwargs: Any) -> None:
        kwargs["prefix"] = self.kind.value
        super().__init__(*args, **kwargs)
        if "to" in self.fields:
            self.fields["to"].queryset = movements  # type: ignore[attr-defined]
        for field in self.fields.values():
            dress(field)

    @property
    def what(self) -> str:
        return WHAT[self.kind]

    def wish(self, shared: Shared, unit: str) -> Wish:
        """What the coach asks for, loads in ``unit``. Raises Invalid where it cannot be read."""
        return read_correction(
            kind=self.kind,
            movement=shared.cleaned_data["movement"],
            weeks=shared.cleaned_data["weeks"],
            today=shared.today,
            unit=unit,
            **self.cleaned_data,
        )


def _whole(label: str, most: int) -> forms.IntegerField:
    return forms.IntegerField(label=label, required=False, min_value=1, max_value=most)


class DrillPart(Part):
    """A dose as the library writes it too: "3 x 4 at 65 to 70%, 2 s pause"."""

    kind = Kind.ADD_DRILL
    drill_name = forms.CharField(
        label="Drill", required=False, max_length=80, validators=[validate_name]
    )
    dose = forms.CharField(label="Dose", required=False, max_length=160)
    place = forms.ChoiceField(label="Where", choices=Place.choices, required=False)
    note = forms.CharField(label="Note", required=False, max_length=MAX_NOTE)


def drill_fields(drill: Drill, unit: str) -> dict[str, str]:
    """What the form begins with. A dose such as "last rep of each set, 5 s" names no sets and
    reps: it becomes the note, and the coach writes them."""
    try:
        read_with_words(drill.dose, unit)
    except Invalid:
        return {"drill_name": drill.name, "note": drill.dose}
    return {"drill_name": drill.name, "dose": drill.dose}


class RebuildPart(Part):
    """A dose as a coach writes it in the programme: ``3x5 @ 82.5%``."""

    kind = Kind.REBUILD
    name = forms.CharField(
        label="Name of the new movement", required=False, max_length=80, validators=[validate_name]
    )
    dose = forms.CharField(label="Dose", required=False, max_length=80)


class SwapPart(Part):
    kind = Kind.SWAP
    to = forms.ModelChoiceField(
        label="In its place", queryset=Movement.objects.none(), required=False
    )


class CapPart(Part):
    kind = Kind.CAP
    percent = forms.DecimalField(
        **CAP_PERCENT, label="% of the technical max", required=False, initial=100
    )


class DosePart(Part):
    kind = Kind.DOSE
    sets = _whole("Sets", 20)
    reps = _whole("Reps", 100)
    target_kind = forms.ChoiceField(label="Target", required=False, choices=TARGETS)
    target = forms.DecimalField(
        label="Number", required=False, min_value=Decimal(0), max_value=Decimal(1000)
    )
    tempo = forms.CharField(label="Tempo", required=False, max_length=20)
    rest_seconds = _whole("Rest, in seconds", 900)


class HoldPart(Part):
    kind = Kind.HOLD


PARTS: list[type[Part]] = [DrillPart, SwapPart, CapPart, RebuildPart, DosePart, HoldPart]
