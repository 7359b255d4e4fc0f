"""The correction page's form: what all kinds share, and the fields of each kind."""

from datetime import date, timedelta
from decimal import Decimal
from typing import Any

from django import forms
from django.db.models import QuerySet

from coachdesk.common.errors import Invalid
from coachdesk.common.units import to_kg
from coachdesk.common.validators import validate_name
from programming.corrections.models import Kind, Place
from programming.corrections.wishes import Wish
from programming.models import Movement
from programming.plans.models import Prescription, TargetKind
from programming.plans.notation import Dose, read, read_with_words
from reviews.library.forms import dress
from reviews.library.models import Drill

MOST_NOTE: int = Prescription._meta.get_field("note").max_length  # type: ignore[assignment]
WEEKS = [(1, "1 week"), (2, "2 weeks"), (3, "3 weeks"), (4, "4 weeks"), (8, "8 weeks")]
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
    weeks = forms.TypedChoiceField(choices=WEEKS, coerce=int, initial=4, label="For")
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

    @property
    def until(self) -> date:
        return self.today + timedelta(weeks=self.cleaned_data["weeks"])


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
        """What the coach asks for, loads in ``unit``. Raises Invalid where it cannot be read; the
        rules of a wish are in `programming.corrections.wishes`."""
        return self._wish(shared)

    def _wish(self, shared: Shared) -> Wish:
        given = {name: value for name, value in self.cleaned_data.items() if value is not None}
        return Wish(
            kind=self.kind,
            movement=shared.cleaned_data["movement"],
            until=shared.until,
            **given,
        )


def _whole(label: str, most: int) -> forms.IntegerField:
    return forms.IntegerField(label=label, required=False, min_value=1, max_value=most)


class Written(Part):
    """A dose as a coach writes it in the programme: ``3x5 @ 82.5%``."""

    dose = forms.CharField(label="Dose", required=False, max_length=80)

    def wish(self, shared: Shared, unit: str) -> Wish:
        dose = self._read(self.cleaned_data.pop("dose"), unit)
        self.cleaned_data |= {
            "sets": dose.sets,
            "reps": dose.reps,
            "target_kind": dose.kind,
            "target": dose.target,
            "tempo": dose.tempo,
            "rest_seconds": dose.rest_seconds,
        }
        return self._wish(shared)

    def _read(self, text: str, unit: str) -> Dose:
        return read(text, unit)


class DrillPart(Written):
    """A dose as the library writes it too: "3 x 4 at 65 to 70%, 2 s pause"."""

    kind = Kind.ADD_DRILL
    drill_name = forms.CharField(
        label="Drill", required=False, max_length=80, validators=[validate_name]
    )
    dose = forms.CharField(label="Dose", required=False, max_length=160)
    place = forms.ChoiceField(label="Where", choices=Place.choices, required=False)
    note = forms.CharField(label="Note", required=False, max_length=MOST_NOTE)

    def clean_place(self) -> Place:
        return Place(self.cleaned_data["place"] or Place.BEFORE)

    def _read(self, text: str, unit: str) -> Dose:
        dose, words = read_with_words(text, unit)
        note = ". ".join(filter(None, (words, self.cleaned_data["note"])))
        if len(note) > MOST_NOTE:
            raise Invalid(
                f"The words after the dose and the note are {len(note)} characters together; "
                f"{MOST_NOTE} fit. Shorten one of them."
            )
        self.cleaned_data["note"] = note
        return dose


def drill_fields(drill: Drill, unit: str) -> dict[str, str]:
    """What the form begins with. A dose such as "last rep of each set, 5 s" names no sets and
    reps: it becomes the note, and the coach writes them."""
    try:
        read_with_words(drill.dose, unit)
    except Invalid:
        return {"drill_name": drill.name, "note": drill.dose}
    return {"drill_name": drill.name, "dose": drill.dose}


class RebuildPart(Written):
    kind = Kind.REBUILD
    name = forms.CharField(
        label="Name of the new movement", required=False, max_length=80, validators=[validate_name]
    )


class SwapPart(Part):
    kind = Kind.SWAP
    to = forms.ModelChoiceField(
        label="In its place", queryset=Movement.objects.none(), required=False
    )


class CapPart(Part):
    kind = Kind.CAP
    percent = forms.DecimalField(
        label="% of the technical max", required=False, initial=100, min_value=1, max_value=100
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

    def wish(self, shared: Shared, unit: str) -> Wish:
        target = self.cleaned_data["target"]
        if self.cleaned_data["target_kind"] == TargetKind.KG and target is not None:
            self.cleaned_data["target"] = to_kg(target, unit)
        return self._wish(shared)


class HoldPart(Part):
    kind = Kind.HOLD


PARTS: list[type[Part]] = [DrillPart, SwapPart, CapPart, RebuildPart, DosePart, HoldPart]
