"""allauth's forms, where ours begin differently."""

from typing import Any

from allauth.mfa.webauthn.forms import AddWebAuthnForm


class AddPasskeyForm(AddWebAuthnForm):
    """A passkey signs in alone unless somebody says otherwise: that is what it is for."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.initial["passwordless"] = True
