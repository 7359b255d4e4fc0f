"""An S3-compatible storage, made ready: only imported where one is set."""

import io
from typing import IO, Any, cast

from botocore.config import Config
from botocore.exceptions import ClientError
from django.core.files import File
from storages.backends.s3 import S3Storage

SIGNED_SECONDS = 60  # an address for the front alone, used at once
CONFIG = Config(
    signature_version="s3v4",
    s3={"addressing_style": "path"},
    # Most servers of the protocol know no newer checksums.
    request_checksum_calculation="when_required",
    response_checksum_validation="when_required",
    connect_timeout=5,
    read_timeout=60,
    retries={"max_attempts": 3, "mode": "standard"},
)


class ClipStorage(S3Storage):
    """Reads parts of a file as parts: the library's own file fetches all of it first."""

    def get_default_settings(self) -> dict[str, Any]:
        return {
            **super().get_default_settings(),
            "querystring_expire": SIGNED_SECONDS,
            "file_overwrite": False,
            "client_config": CONFIG,
        }

    def _open(self, name: str, mode: str = "rb") -> File:
        if mode != "rb":
            raise ValueError("Files here are saved whole and never written to.")
        key = self._normalize_name(name)
        return File(cast(IO[bytes], Remote(self.bucket.Object(key), self.size(name))), name)


class Remote(io.RawIOBase):
    """One object, seekable; a request goes out at the first read after a seek."""

    def __init__(self, item: Any, size: int) -> None:
        self._item, self._size, self._at = item, size, 0
        self._body: IO[bytes] | None = None

    def readable(self) -> bool:
        return True

    def seekable(self) -> bool:
        return True

    def tell(self) -> int:
        return self._at

    def seek(self, offset: int, whence: int = io.SEEK_SET) -> int:
        base = {io.SEEK_SET: 0, io.SEEK_CUR: self._at, io.SEEK_END: self._size}[whence]
        self._drop()
        self._at = base + offset
        return self._at

    def read(self, size: int | None = -1) -> bytes:
        """Raises FileNotFoundError when the object has gone since it was opened."""
        if self._at >= self._size:
            return b""
        if self._body is None:
            self._body = self._ask()
        block = self._body.read(self._size - self._at if size is None or size < 0 else size)
        self._at += len(block)
        return block

    def readinto(self, buffer: Any) -> int:
        block = self.read(len(buffer))
        buffer[: len(block)] = block
        return len(block)

    def close(self) -> None:
        self._drop()
        super().close()

    def _ask(self) -> IO[bytes]:
        try:
            body: IO[bytes] = self._item.get(Range=f"bytes={self._at}-")["Body"]
        except ClientError as error:
            if error.response["ResponseMetadata"]["HTTPStatusCode"] == 404:
                raise FileNotFoundError(self._item.key) from error
            raise
        return body

    def _drop(self) -> None:
        if self._body is not None:
            self._body.close()
            self._body = None
