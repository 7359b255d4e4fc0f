"""The form with which an owner adds a webhook."""

from django import forms

from athletes.webhooks.models import Event


class WebhookForm(forms.Form):
    url = forms.URLField(
        label="Address",
        max_length=500,
        assume_scheme="https",
        help_text="Where your program listens. It must be reachable from the internet.",
        error_messages={"required": "Write the address.", "invalid": "That is no address."},
    )
    events = forms.MultipleChoiceField(
        label="Tell it when",
        choices=Event.choices,
        widget=forms.CheckboxSelectMultiple,
        error_messages={"required": "Choose what it is told."},
    )
