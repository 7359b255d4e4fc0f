"""What is kept of a secret that is shown once: a leaked database opens no door."""

import hashlib


def digest_of(secret: str) -> str:
    """SHA-256 in hex. Enough for a secret of 256 random bits; not for what people think up."""
    return hashlib.sha256(secret.encode()).hexdigest()
