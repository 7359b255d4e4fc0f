"""Let the front server send a file that this person was just allowed: X-Accel-Redirect.

The header is nginx's; its `internal` locations of the same names are in deploy/nginx.conf.template,
and no browser can ask for them.
"""

from urllib.parse import quote, urlsplit

from django.conf import settings
from django.core.files.storage import FileSystemStorage, Storage

FILES = "/-/files/"  # a folder that the front can read
STORED = "/-/stored/"  # the S3-compatible storage, by an address signed for a minute


def internal_address(storage: Storage, name: str, part: bool) -> str | None:
    """The front's own address of a stored file; None when this process sends it itself.

    A part of a file in an S3-compatible storage is sent from here: there are servers (rclone 1.75)
    that answer a range with 200 instead of 206, and the front would pass that on to the player.
    """
    if not settings.FRONT_SENDS_MEDIA:
        return None
    if isinstance(storage, FileSystemStorage):
        return FILES + quote(name)
    if part:
        return None
    signed = urlsplit(storage.url(name))
    return f"{STORED}{signed.path.lstrip('/')}?{signed.query}"
