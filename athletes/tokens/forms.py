"""The form with which a person makes a token."""

from django import forms

from athletes.tokens.models import READ, WRITE, Area
from coachdesk.common.validators import validate_name

LASTS = [(7, "7 days"), (30, "30 days"), (90, "90 days"), (365, "a year")]
MAY = [("", "Nothing"), (READ, "Read"), (WRITE, "Read and write")]


class TokenForm(forms.Form):
    name = forms.CharField(
        label="What will use it?",
        max_length=80,
        validators=[validate_name],
        widget=forms.TextInput(attrs={"class": "input", "autocomplete": "off"}),
        error_messages={"required": "Give it a name: what will use it?"},
    )
    days = forms.TypedChoiceField(
        label="How long it lasts",
        choices=LASTS,
        coerce=int,
        initial=30,
        widget=forms.Select(attrs={"class": "input"}),
    )

    def __init__(self, *args: object, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]
        for area in Area:
            self.fields[area.value] = forms.ChoiceField(
                label=area.label,
                choices=MAY,
                required=False,
                widget=forms.Select(attrs={"class": "input"}),
            )

    @property
    def scopes(self) -> list[str]:
        return [f"{area}:{self.cleaned_data[area]}" for area in Area if self.cleaned_data[area]]
