"""REST of the wing, under /api/v1/."""

from django.urls import path

from programming.plans.api import CellsView
from programming.plans.programmes_api import ChangesView, ProgrammesView, ProgrammeView

urlpatterns = [
    path("programmes/", ProgrammesView.as_view(), name="api-programmes"),
    path("programmes/<uuid:pk>/", ProgrammeView.as_view(), name="api-programme"),
    path("programmes/<uuid:pk>/changes/", ChangesView.as_view(), name="api-programme-changes"),
    path("programmes/<uuid:pk>/cells", CellsView.as_view(), name="api-cells"),
]
