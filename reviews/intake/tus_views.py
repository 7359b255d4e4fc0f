"""The doors of the resumable upload: tus 1.0.0 over HTTP. WSGI only, so that a body streams.

Errors are problem details (RFC 9457) whose sentence the page shows; every answer, refusals
included, carries Tus-Resumable.
"""

from collections.abc import Sequence
from contextlib import suppress
from typing import Any
from uuid import UUID

from django.conf import settings
from django.http import HttpRequest
from django.urls import reverse
from django.utils.http import http_date
from rest_framework.exceptions import APIException, NotFound
from rest_framework.parsers import BaseParser
from rest_framework.permissions import AllowAny
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from athletes.permissions import signed_in
from reviews.intake import tus, uploads
from reviews.intake.models import Upload
from reviews.intake.partial import TakenOver
from reviews.intake.receiving import DiskFull, Mismatch
from reviews.intake.sharing import UPLOADS_OF_PERSON, TooMany, one_of_few
from reviews.permissions import uploads_of

AGAIN_SECONDS = 5
OVERRIDABLE = {"HEAD", "PATCH", "DELETE"}


def refuse(status: int, sentence: str) -> APIException:
    error = APIException(sentence)
    error.status_code = status
    return error


class Untouched(BaseParser):
    """The body is a stream of video: whoever asks for form fields (the CSRF check) gets none."""

    media_type = "*/*"

    def parse(self, stream: Any, *args: Any, **kwargs: Any) -> Any:
        return {}


class Stored(Response):
    """Says that bytes are safe; what follows from the last of them is done once that is said.

    Reading gigabytes again for their checksum would keep the client waiting for an answer it may
    lose meanwhile. A server killed after answering leaves a whole file, which HEAD or the sweeper
    hands over.
    """

    def __init__(self, upload: Upload, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.upload = upload

    def close(self) -> None:
        try:
            with suppress(FileNotFoundError):  # taken out again meanwhile
                uploads.finish_if_whole(self.upload)
        finally:
            super().close()


class TusView(APIView):
    """What both addresses share: version, method override, and the headers of every answer."""

    parser_classes = [Untouched]
    streams_body = True  # for the server: begin before the body is here

    def dispatch(self, request: HttpRequest, *args: Any, **kwargs: Any) -> Any:
        override = request.headers.get("X-HTTP-Method-Override", "").upper()
        if request.method == "POST" and override in OVERRIDABLE:
            request.method = override
        return super().dispatch(request, *args, **kwargs)

    def get_permissions(self) -> Sequence[Any]:
        # What the server can do is no secret, and clients ask before they sign in.
        return [AllowAny()] if self.request.method == "OPTIONS" else super().get_permissions()

    def initial(self, request: Request, *args: Any, **kwargs: Any) -> None:
        super().initial(request, *args, **kwargs)
        if request.method == "OPTIONS":
            return
        if request.headers.get("Tus-Resumable") != tus.VERSION:
            raise refuse(412, f"Uploads here speak tus {tus.VERSION}.")

    def finalize_response(self, request: Any, response: Any, *args: Any, **kwargs: Any) -> Any:
        response = super().finalize_response(request, response, *args, **kwargs)
        response["Tus-Resumable"] = tus.VERSION
        response["Cache-Control"] = "no-store"
        if response.status_code == 412 or request.method == "OPTIONS":
            response["Tus-Version"] = tus.VERSION
        return response

    def options(self, request: HttpRequest, *args: Any, **kwargs: Any) -> Response:
        return Response(
            status=204,
            headers={
                "Tus-Extension": tus.EXTENSIONS,
                "Tus-Max-Size": str(settings.UPLOAD_MAX_BYTES),
                "Tus-Checksum-Algorithm": ",".join(tus.ALGORITHMS),
            },
        )

    def number(self, header: str) -> int:
        try:
            return tus.length(self.request.headers.get(header), header)
        except tus.Malformed as wrong:
            raise refuse(400, str(wrong)) from wrong

    def body_length(self) -> int:
        """What the body announces. A chunked body would read as empty, and be taken for done."""
        if "Content-Length" not in self.request.headers:
            raise refuse(411, "Send the bytes with a Content-Length.")
        return self.number("Content-Length")

    def receive(self, upload: Upload, *, at: int, length: int) -> int:
        if at + length > upload.length:
            raise refuse(413, "These are more bytes than the upload was said to have.")
        checked = None
        if "Upload-Checksum" in self.request.headers:
            try:
                checked = tus.checksum(self.request.headers["Upload-Checksum"])
            except tus.Malformed as wrong:
                raise refuse(400, str(wrong)) from wrong
        stream = self.request._request
        try:
            with one_of_few(upload.owner_id):
                return uploads.receive(upload, stream, at=at, length=length, checked=checked)
        except TooMany as many:
            error = refuse(
                429, f"{UPLOADS_OF_PERSON} of your clips are arriving now. This one goes on after."
            )
            error.wait = AGAIN_SECONDS  # type: ignore[attr-defined]  # sent as Retry-After
            raise error from many
        except Mismatch as wrong:
            raise refuse(tus.MISMATCH, "The bytes changed on the way. Send them again.") from wrong
        except TakenOver as taken:
            raise refuse(423, "Another connection goes on with this upload.") from taken
        except DiskFull as full:
            raise refuse(
                507, "The server's disk is full. What arrived is kept; try again later."
            ) from full


class Uploads(TusView):
    """Creation, with or without the first bytes."""

    def post(self, request: Request) -> Response:
        if "Upload-Defer-Length" in request.headers:
            raise refuse(400, "Say the length at once: Upload-Length.")
        length = self.number("Upload-Length")
        told = request.headers.get("Upload-Metadata", "")
        try:
            facts = tus.metadata(told)
        except tus.Malformed as wrong:
            raise refuse(400, str(wrong)) from wrong
        first = self._first_bytes()
        try:
            upload = uploads.begin(
                owner=signed_in(request),
                clip_id=_clip_id(facts.get("clip", "")),
                length=length,
                filename=facts.get("filename", ""),
                metadata=told,
            )
        except uploads.Refused as no:
            raise refuse(no.status, str(no)) from no
        return self._created(upload, first)

    def _first_bytes(self) -> int | None:
        """How many bytes come with the creation; None for none. A POST without a body is plain."""
        if self.request.content_type.split(";")[0] != tus.BODY_TYPE:
            return None
        return self.body_length()

    def _created(self, upload: Upload, first: int | None) -> Response:
        headers = {"Location": reverse("upload", args=[upload.id])}
        if first is not None:
            headers["Upload-Offset"] = str(self.receive(upload, at=0, length=first))
        headers["Upload-Expires"] = http_date(upload.expires_at.timestamp())
        return Stored(upload, status=201, headers=headers)


def _clip_id(text: str) -> UUID:
    try:
        return UUID(text)
    except ValueError as wrong:
        raise refuse(400, 'Upload-Metadata must name the "clip" the video is for.') from wrong


class OneUpload(TusView):
    """Where it stands, more bytes, the end."""

    def upload(self) -> Upload:
        """The upload behind the address, for its owner and nobody else."""
        found = uploads_of(signed_in(self.request)).select_related("clip")
        upload = found.filter(pk=self.kwargs["upload_id"]).first()
        if upload is None:
            raise NotFound("There is no such upload. Pick the clip again.")
        if uploads.is_expired(upload):
            raise refuse(410, "This upload waited too long and was dropped. Pick the clip again.")
        return upload

    def stored(self, upload: Upload) -> int:
        try:
            return uploads.offset_of(upload)
        except FileNotFoundError as gone:
            raise refuse(410, "The stored part is gone. Pick the clip again.") from gone

    def head(self, request: Request, upload_id: UUID) -> Response:
        upload = self.upload()
        headers = {
            "Upload-Offset": str(self.stored(upload)),
            "Upload-Length": str(upload.length),
            "Upload-Expires": http_date(upload.expires_at.timestamp()),
        }
        if upload.metadata:
            headers["Upload-Metadata"] = upload.metadata
        return Response(status=200, headers=headers)

    def patch(self, request: Request, upload_id: UUID) -> Response:
        upload = self.upload()
        if request.content_type.split(";")[0] != tus.BODY_TYPE:
            raise refuse(415, f"Bytes of an upload are sent as {tus.BODY_TYPE}.")
        at, length = self.number("Upload-Offset"), self.body_length()
        stored = self.stored(upload)
        if at != stored:
            raise refuse(409, f"The upload stands at {stored} bytes. Ask for it, and go on there.")
        if length and upload.finished_at is None:
            stored = self.receive(upload, at=at, length=length)
        elif length:
            raise refuse(413, "This upload is complete already.")
        return Stored(
            upload,
            status=204,
            headers={
                "Upload-Offset": str(stored),
                "Upload-Expires": http_date(upload.expires_at.timestamp()),
            },
        )

    def delete(self, request: Request, upload_id: UUID) -> Response:
        uploads.terminate(self.upload())
        return Response(status=204)
