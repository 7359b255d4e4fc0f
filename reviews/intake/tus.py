"""The words of the tus resumable upload protocol 1.0.0 (https://tus.io/protocols/resumable-upload).

Pure parsing: no request, no file, no row.
"""

import base64
import binascii
import hashlib
from collections.abc import Callable
from typing import Any

VERSION = "1.0.0"
EXTENSIONS = "creation,creation-with-upload,checksum,expiration,termination"
BODY_TYPE = "application/offset+octet-stream"
MISMATCH = 460  # the checksum extension's own status
ALGORITHMS: dict[str, Callable[[], Any]] = {
    "sha1": lambda: hashlib.sha1(usedforsecurity=False),
    "sha256": hashlib.sha256,
    "md5": lambda: hashlib.md5(usedforsecurity=False),
}
METADATA_LONGEST = 4096


class Malformed(ValueError):
    """A header that does not follow the protocol; the message says which and how."""


def length(text: str | None, header: str) -> int:
    """A non-negative number of bytes. Raises Malformed."""
    if text is None or not text.isascii() or not text.isdigit() or len(text) > 18:
        raise Malformed(f"{header} must be a whole number of bytes.")
    return int(text)


def metadata(text: str) -> dict[str, str]:
    """Upload-Metadata: comma-separated pairs of a key and a base64 value. Raises Malformed."""
    if len(text) > METADATA_LONGEST:
        raise Malformed(f"Upload-Metadata is longer than {METADATA_LONGEST} characters.")
    pairs: dict[str, str] = {}
    for pair in text.split(",") if text.strip() else []:
        key, _, value = pair.strip(" ").partition(" ")
        if not key or not key.isascii() or key in pairs:
            raise Malformed("Upload-Metadata needs unique, non-empty ASCII keys.")
        try:
            pairs[key] = base64.b64decode(value, validate=True).decode()
        except (binascii.Error, UnicodeDecodeError) as wrong:
            raise Malformed(f"The value of {key} in Upload-Metadata is not base64.") from wrong
    return pairs


def checksum(text: str) -> tuple[Any, bytes]:
    """Upload-Checksum: a fresh hash object and the digest it must reach. Raises Malformed."""
    name, _, value = text.strip().partition(" ")
    if name not in ALGORITHMS:
        raise Malformed(f"Checksums are understood as one of: {', '.join(ALGORITHMS)}.")
    try:
        digest = base64.b64decode(value, validate=True)
    except binascii.Error as wrong:
        raise Malformed("Upload-Checksum is not base64.") from wrong
    return ALGORITHMS[name](), digest
