"""Plain forms of the library, with errors that say what to do."""

from typing import Any

from django import forms

from programming.movements.families import Family, Phase, phases_of
from reviews.intake.models import View
from reviews.library.models import Cue, Drill, Fault, Sight

FROM = {
    View.SIDE: "From the side",
    View.QUARTER: "At 45°",
    View.FRONT: "From the front",
    View.REAR: "From the rear",
}


class HouseForm(forms.ModelForm):
    """A model form whose fields wear the house's class."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for field in self.fields.values():
            dress(field)


def dress(field: forms.Field) -> None:
    if not isinstance(field.widget, forms.CheckboxInput):
        field.widget.attrs.setdefault("class", "input")
    if isinstance(field.widget, forms.Textarea):
        field.widget.attrs["rows"] = 4


class FaultForm(HouseForm):
    """A fault of one club. ``sight`` is four questions, one per view."""

    phase = forms.ChoiceField(
        choices=[("", "Choose one"), *((p.value, p.label.capitalize()) for p in Phase)],
        error_messages={"required": "Say in which phase it shows."},
    )

    class Meta:
        model = Fault
        fields = [
            "name",
            "family",
            "phase",
            "see",
            "causes",
            "breaks",
            "breaks_note",
            "goal_note",
        ]
        labels = {
            "family": "Lift",
            "breaks": "Does it break the technical standard?",
            "breaks_note": "From when on, and what decides",
            "causes": "Likely causes",
            "see": "How to see it",
            "goal_note": "What depends on the lifter's goal",
        }
        help_texts = {
            "name": "A few words a lifter understands: “Hips rise first”.",
            "causes": "One a line.",
        }
        error_messages = {
            "name": {"required": "Give it a name: it is what you will search for."},
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for view in View:
            field = forms.ChoiceField(
                label=FROM[view],
                choices=Sight.choices,
                initial=self.instance.sight.get(view.value, Sight.NO),
            )
            dress(field)
            self.fields[f"sight_{view.value}"] = field

    @property
    def sight_fields(self) -> list[forms.BoundField]:
        return [self[f"sight_{view.value}"] for view in View]

    def clean_name(self) -> str:
        return " ".join(self.cleaned_data["name"].split())

    def clean(self) -> dict[str, Any]:
        data = super().clean() or {}
        self._phase_fits(data.get("family"), data.get("phase"))
        self._name_is_free(data.get("family"), data.get("name"))
        return data

    def _phase_fits(self, family: str | None, phase: str | None) -> None:
        if not family or not phase or family == Family.OTHER:
            return
        phases = [item.value for item in phases_of(family)]
        if phase not in phases:
            lift = Family(family).label.lower()
            named = ", ".join(Phase(item).label for item in phases)
            self.add_error("phase", f"A {lift} has no {Phase(phase).label}. Choose from: {named}.")

    def _name_is_free(self, family: str | None, name: str | None) -> None:
        if not family or not name:
            return
        same = Fault.objects.filter(club_id=self.instance.club_id, family=family, name__iexact=name)
        other = same.exclude(pk=self.instance.pk).first()
        if other is None:
            return
        what = "was retired: bring it back" if other.retired_at else "is there already: edit it"
        self.add_error("name", f"“{other.name}” {what}, or choose another name.")

    def save(self, commit: bool = True) -> Any:
        self.instance.sight = {
            view.value: self.cleaned_data[f"sight_{view.value}"] for view in View
        }
        return super().save(commit=commit)


class CueForm(HouseForm):
    class Meta:
        model = Cue
        fields = ["text", "outside_focus"]
        labels = {"text": "The words"}
        help_texts = {
            "text": "Short enough to remember under the bar.",
            "outside_focus": "The bar, the floor, the wall: most lifters do better with it than "
            "with a part of the body.",
        }
        error_messages = {"text": {"required": "Write the words you would say."}}


class DrillForm(HouseForm):
    class Meta:
        model = Drill
        fields = ["name", "dose"]
        labels = {"name": "Drill", "dose": "Usual dose"}
        help_texts = {"dose": "Sets, reps and load: “3 × 4 at 65 to 70%, 2 s pause”."}
        error_messages = {"name": {"required": "Name the drill."}}
