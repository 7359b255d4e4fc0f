"""What the views without a serializer of their own take and answer, for the document."""

from typing import Any

from drf_spectacular.utils import OpenApiParameter, extend_schema, extend_schema_view

from coachdesk.api import answers
from programming.movements.families import Family
from reviews.desk import api as desk
from reviews.intake import api as intake
from reviews.intake import media_views, tus_views
from reviews.intake.serializers import ClipFields, SubmissionFields
from reviews.library.api import LibraryView


def says(tag: str, gives: Any = None, *, takes: Any = None, status: int = 200, **more: Any) -> Any:
    return extend_schema(tags=[tag], request=takes, responses={status: gives}, **more)


KIND = OpenApiParameter(
    "kind",
    enum=["playable", "frames", "poster", "filmstrip", "waveform", "original"],
    location=OpenApiParameter.PATH,
)
FAMILIES = OpenApiParameter("family", enum=Family.values, many=True, required=True)

for view, methods in {
    desk.ClaimView: {"post": says("desk", answers.CLAIM)},
    desk.ReleaseView: {"post": says("desk", answers.RELEASED)},
    LibraryView: {"get": says("library", answers.LIBRARY, parameters=[FAMILIES])},
    intake.DraftApi: {"patch": says("submissions", answers.SAVED, takes=SubmissionFields)},
    intake.SendApi: {"post": says("submissions", answers.SENT)},
    intake.ClipsApi: {"post": says("submissions", answers.CARD, status=201)},
    intake.ClipApi: {
        "get": says("submissions", answers.CARD),
        "patch": says("submissions", takes=ClipFields, status=204),
        "delete": says("submissions", status=204),
    },
    media_views.ClipMedia: {
        "get": extend_schema(tags=["submissions"], parameters=[KIND], responses=answers.FILE)
    },
    intake.ReplaceClipApi: {"post": says("submissions", answers.CARD, status=201)},
}.items():
    extend_schema_view(**methods)(view)

# tus 1.0.0 is a protocol of its own, which this document has no words for.
for tus in (tus_views.Uploads, tus_views.OneUpload):
    extend_schema(exclude=True)(tus)
