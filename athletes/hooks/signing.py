"""The signature by which a receiver knows that it was us, and that it was now."""

import hmac
from datetime import datetime


def signature(*, secret: str, moment: datetime, body: bytes) -> str:
    """``t=<seconds since 1970>,v1=<hex>``: HMAC-SHA256 (RFC 2104) over ``<t>.<body>``. The time is
    signed too, so that a copy cannot be sent again later."""
    stamp = str(int(moment.timestamp()))
    digest = hmac.new(secret.encode(), stamp.encode() + b"." + body, "sha256").hexdigest()
    return f"t={stamp},v1={digest}"
