"""Where originals and derived files lie: a folder, or an S3-compatible storage by one address."""

from typing import Any
from urllib.parse import parse_qs, unquote, urlsplit

FOLDER = {"BACKEND": "django.core.files.storage.FileSystemStorage"}


def storage_settings(url: str) -> dict[str, Any]:
    """An entry of STORAGES from `s3://key:secret@host:9000/bucket?tls=no&region=…`; "" the folder.

    Raises ValueError for anything else.
    """
    if not url:
        return FOLDER
    parts = urlsplit(url)
    bucket = parts.path.strip("/")
    if parts.scheme != "s3" or not (parts.hostname and bucket and parts.username):
        raise ValueError("COACHDESK_STORAGE_URL is s3://key:secret@host:port/bucket")
    asked = {name: values[-1] for name, values in parse_qs(parts.query).items()}
    scheme = "http" if asked.get("tls") == "no" else "https"
    port = f":{parts.port}" if parts.port else ""
    return {
        "BACKEND": "coachdesk.common.s3.ClipStorage",
        "OPTIONS": {
            "endpoint_url": f"{scheme}://{parts.hostname}{port}",
            "bucket_name": bucket,
            "access_key": unquote(parts.username),
            "secret_key": unquote(parts.password or ""),
            "region_name": asked.get("region", "us-east-1"),
        },
    }
