"""REST of the wing, under /api/v1/."""

from django.urls import path

from programming.plans.api import CellsView

urlpatterns = [path("programmes/<uuid:pk>/cells", CellsView.as_view(), name="api-cells")]
