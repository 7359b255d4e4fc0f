"""Forms about movements. They check shape; permissions and use cases decide."""

from typing import Any

from django import forms

from athletes.models import User
from coachdesk.common.validators import validate_name
from programming.movements.models import Movement

EXAMPLES = {
    "bar_position": "low bar, high bar, front rack",
    "stance": "conventional, sumo, close",
    "grip": "competition, close, hook",
    "equipment": "knee wraps, bands, board",
    "tempo": "pause 2 s, 3 s down",
}


class MovementForm(forms.ModelForm):
    """What makes the variant exact."""

    class Meta:
        model = Movement
        fields = ["family", "name", "bar_position", "stance", "grip", "equipment", "tempo"]
        labels = {"bar_position": "Bar position"}
        help_texts = {
            "name": "As you say it in the gym. Athletes pick it by this name.",
            **{field: f"Such as {words}." for field, words in EXAMPLES.items()},
        }


class RebuildForm(forms.Form):
    athlete = forms.ModelChoiceField(queryset=User.objects.none(), label="Athlete")
    name = forms.CharField(
        max_length=80, label="Name of the new movement", validators=[validate_name]
    )
    tempo = forms.CharField(
        max_length=40,
        required=False,
        label="Tempo",
        help_text=f"Such as {EXAMPLES['tempo']}. Empty: as before.",
    )

    def __init__(self, *args: Any, athletes: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        field = self.fields["athlete"]
        assert isinstance(field, forms.ModelChoiceField)
        field.queryset = athletes
