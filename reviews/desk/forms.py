"""How long the coach has tonight, and to whom a submission is handed."""

from typing import Any

from django import forms

from athletes.models import User
from athletes.permissions import coaches_of
from reviews.desk.evening import LONGEST_EVENING
from reviews.intake.models import Submission

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


class HandForm(forms.Form):
    """``holder`` is whoever had it when the page was read: what changed meanwhile is not undone."""

    holder = forms.ModelChoiceField(
        queryset=User.objects.none(), error_messages={"invalid_choice": "Load the page again."}
    )
    to = forms.ModelChoiceField(
        queryset=User.objects.none(),
        error_messages={
            "required": "Choose who gets it.",
            "invalid_choice": "Choose another coach of this club.",
        },
    )

    def __init__(self, *args: Any, submission: Submission, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        # A holder who coaches here no longer still has it until an owner hands it on.
        club = User.objects.filter(club=submission.club)
        self.fields["holder"].queryset = club  # type: ignore[attr-defined]
        self.fields["to"].queryset = coaches_of(submission.club)  # type: ignore[attr-defined]
