"""What the views without a serializer of their own take and answer, for the document."""

from typing import Any

from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter, extend_schema, extend_schema_view

from programming.logs import api as log
from programming.logs.serializers import RevisionIn, SessionIn, SetIn, WeightIn
from programming.movements.families import Family
from programming.plans.api import CellsIn, CellsView
from programming.plans.today_views import TodayView
from reviews.desk import api as desk
from reviews.intake import api as intake
from reviews.intake import tus_views
from reviews.intake.serializers import ClipFields, SubmissionFields
from reviews.library.api import LibraryView
from reviews.replies.api import outcomes, views
from reviews.replies.api.serializers import NoteIn, RepCallIn, ReplyIn

FREE = OpenApiTypes.OBJECT


def says(tag: str, *, takes: Any = None, gives: Any = FREE, status: int = 200, **more: Any) -> Any:
    return extend_schema(tags=[tag], request=takes, responses={status: gives}, **more)


def gone(tag: str) -> Any:
    return says(tag, gives=None, status=204)


FAMILIES = OpenApiParameter("family", enum=Family.values, many=True, required=True)

for view, methods in {
    TodayView: {"get": says("log", operation_id="training")},
    log.SessionView: {"put": says("log", takes=SessionIn), "delete": says("log", takes=RevisionIn)},
    log.SetView: {"put": says("log", takes=SetIn), "delete": says("log", takes=RevisionIn)},
    log.BodyWeightView: {"put": says("log", takes=WeightIn)},
    CellsView: {"patch": says("programme", takes=CellsIn)},
    desk.ClaimView: {"post": says("desk")},
    desk.ReleaseView: {"post": says("desk")},
    LibraryView: {"get": says("library", parameters=[FAMILIES])},
    intake.DraftApi: {"patch": says("submissions", takes=SubmissionFields)},
    intake.SendApi: {"post": says("submissions")},
    intake.ClipsApi: {"post": says("submissions", status=201)},
    intake.ClipApi: {
        "get": says("submissions"),
        "patch": says("submissions", takes=ClipFields, gives=None, status=204),
        "delete": gone("submissions"),
    },
    intake.ReplaceClipApi: {"post": says("submissions", status=201)},
    outcomes.CheckBackView: {"get": says("reviews")},
    outcomes.OutcomeView: {"put": says("reviews", takes=outcomes.OutcomeIn)},
    views.NoteView: {
        "put": says("reviews", takes=NoteIn),
        "delete": extend_schema(tags=["reviews"], request=None, responses={200: FREE, 204: None}),
    },
    views.RepCallView: {"put": says("reviews", takes=RepCallIn)},
    views.ReplyView: {"patch": says("reviews", takes=ReplyIn)},
    views.PublishView: {"post": says("reviews")},
    views.ReviewView: {"get": says("reviews")},
}.items():
    extend_schema_view(**methods)(view)

# tus 1.0.0 is a protocol of its own, which this document has no words for.
for tus in (tus_views.Uploads, tus_views.OneUpload):
    extend_schema(exclude=True)(tus)
