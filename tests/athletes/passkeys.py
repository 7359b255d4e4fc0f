"""A passkey as a device would have registered it (W3C WebAuthn, RegistrationResponseJSON)."""

import os
from hashlib import sha256

from allauth.mfa.models import Authenticator
from cryptography.hazmat.primitives.asymmetric import ec
from fido2.cose import ES256
from fido2.utils import websafe_encode
from fido2.webauthn import (
    AttestationObject,
    AttestedCredentialData,
    AuthenticatorData,
    CollectedClientData,
)

from athletes.models import User

FLAG = AuthenticatorData.FLAG


def a_passkey(user: User, name: str = "Phone") -> Authenticator:
    """One that signs its owner in alone, as if added at localhost."""
    held = ES256.from_cryptography_key(ec.generate_private_key(ec.SECP256R1()).public_key())
    number = os.urandom(16)
    facts = AuthenticatorData.create(
        sha256(b"localhost").digest(),
        FLAG.UP | FLAG.UV | FLAG.AT,
        0,
        AttestedCredentialData.create(bytes(16), number, held),
    )
    said = CollectedClientData.create("webauthn.create", os.urandom(32), "http://localhost")
    credential = {
        "id": websafe_encode(number),
        "rawId": websafe_encode(number),
        "type": "public-key",
        "response": {
            "clientDataJSON": websafe_encode(said),
            "attestationObject": websafe_encode(AttestationObject.create("none", facts, {})),
            "transports": ["internal"],
        },
        "clientExtensionResults": {"credProps": {"rk": True}},
    }
    return Authenticator.objects.create(
        user=user,
        type=Authenticator.Type.WEBAUTHN,
        data={"name": name, "credential": credential},
    )
