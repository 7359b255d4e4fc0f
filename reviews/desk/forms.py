"""How long the coach has tonight."""

from django import forms

from reviews.desk.evening import LONGEST_EVENING

EVENINGS = [
    (15, "15 minutes"),
    (30, "30 minutes"),
    (45, "45 minutes"),
    (60, "1 hour"),
    (90, "90 minutes"),
    (120, "2 hours"),
    (180, "3 hours"),
    (LONGEST_EVENING, "4 hours"),
]


class TonightForm(forms.Form):
    minutes = forms.TypedChoiceField(choices=EVENINGS, coerce=int)
