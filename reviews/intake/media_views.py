"""The door to a clip's files: asked at each request, and nothing in it can act as a page."""

from dataclasses import dataclass
from functools import partial
from pathlib import PurePosixPath
from uuid import UUID

from django.core.files.storage import default_storage
from django.http import Http404, HttpRequest, HttpResponseBase
from django.shortcuts import get_object_or_404
from django.utils.http import content_disposition_header
from rest_framework.request import Request

from athletes.permissions import signed_in
from coachdesk.common.api.file_view import FileView
from coachdesk.common.byte_ranges import ranged_response
from coachdesk.common.x_accel import internal_address
from reviews.intake.clip_data import version_of
from reviews.intake.models import Clip, ClipState
from reviews.permissions import clips_visible_to

_YEAR = 31_536_000
_TYPES = {
    ".mp4": "video/mp4",
    ".mov": "video/quicktime",
    ".mkv": "video/matroska",  # RFC 9559, section 27.3.1
    ".webm": "video/webm",
    ".jpg": "image/jpeg",
    ".json": "application/json",
}
_HEADERS = {
    "X-Content-Type-Options": "nosniff",
    # Whatever a browser takes the bytes for, they run nothing and reach nothing.
    "Content-Security-Policy": "default-src 'none'; media-src 'self'; img-src 'self'; sandbox",
    "Cross-Origin-Resource-Policy": "same-origin",
}


@dataclass(frozen=True)
class Derived:
    """One derived file: its storage name, its type and its tag."""

    name: str
    content_type: str
    etag: str


class ClipMedia(FileView):
    """A file of a clip that plays, whole or in ranges (RFC 9110): the playable and its frame table,
    pictures, the waveform where there is sound, and the original as an attachment. Other answers
    name these addresses."""

    def get(self, request: Request, clip_id: UUID, kind: str) -> HttpResponseBase:
        visible = clips_visible_to(signed_in(request)).filter(state=ClipState.PLAYABLE)
        return _served(request._request, get_object_or_404(visible, pk=clip_id), kind)


def _served(request: HttpRequest, clip: Clip, kind: str) -> HttpResponseBase:
    """One derived file; 404 for all else."""
    derived = _derived(clip, kind)
    try:
        size = default_storage.size(derived.name)
    except FileNotFoundError as error:
        raise Http404 from error
    headers = {
        **_HEADERS,
        "Content-Type": derived.content_type,
        "Cache-Control": _cache(request, clip),
    }
    if kind == "original":
        headers["Content-Disposition"] = content_disposition_header(
            True, _download_name(clip, derived.name)
        )
    opened = partial(default_storage.open, derived.name)
    return ranged_response(
        request,
        opened=opened,
        size=size,
        etag=derived.etag,
        headers=headers,
        front=partial(internal_address, default_storage, derived.name),
    )


def _derived(clip: Clip, kind: str) -> Derived:
    assert clip.made is not None  # the database holds playable clips to it
    file = clip.made["files"].get(kind)
    if file is None:
        raise Http404
    return Derived(
        name=f"{clip.derived_folder}/{file}",
        content_type=_TYPES[PurePosixPath(file).suffix],
        etag=f'"{clip.sha256}-{clip.recipe}-{kind}"',
    )


def _cache(request: HttpRequest, clip: Clip) -> str:
    """An address that names its version never changes its bytes; without one, ask each time."""
    if request.GET.get("v") == version_of(clip):
        return f"private, max-age={_YEAR}, immutable"
    return "private, no-cache"


def _download_name(clip: Clip, stored: str) -> str:
    """The athlete's own name for the file, with the ending of what is really sent."""
    stem = PurePosixPath(clip.filename.replace("\\", "/")).stem or str(clip)
    return stem + PurePosixPath(stored).suffix
