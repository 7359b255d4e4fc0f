from django.urls import path

from reviews.library import entries_api as entries
from reviews.library.api import LibraryView
from reviews.library.merging_api import MergeCueView, MergeDrillView, MergeFaultView

urlpatterns = [
    path("library/", LibraryView.as_view(), name="api-library"),
    path("faults/", entries.FaultsView.as_view(), name="api-faults"),
    path("faults/<int:pk>/", entries.FaultView.as_view(), name="api-fault"),
    path("faults/<int:pk>/merge/", MergeFaultView.as_view(), name="api-fault-merge"),
    path("faults/<int:pk>/cues/", entries.CuesView.as_view(), name="api-cues"),
    path("faults/<int:pk>/cues/<int:entry>/", entries.CueView.as_view(), name="api-cue"),
    path("faults/<int:pk>/cues/<int:entry>/merge/", MergeCueView.as_view(), name="api-cue-merge"),
    path("faults/<int:pk>/drills/", entries.DrillsView.as_view(), name="api-drills"),
    path("faults/<int:pk>/drills/<int:entry>/", entries.DrillView.as_view(), name="api-drill"),
    path(
        "faults/<int:pk>/drills/<int:entry>/merge/",
        MergeDrillView.as_view(),
        name="api-drill-merge",
    ),
]
for word in ("retire", "bring-back"):
    said = {"standing": word}
    urlpatterns += [
        path(
            f"faults/<int:pk>/{word}/",
            entries.FaultStandingView.as_view(),
            said,
            f"api-fault-{word}",
        ),
        path(
            f"faults/<int:pk>/cues/<int:entry>/{word}/",
            entries.CueStandingView.as_view(),
            said,
            f"api-cue-{word}",
        ),
        path(
            f"faults/<int:pk>/drills/<int:entry>/{word}/",
            entries.DrillStandingView.as_view(),
            said,
            f"api-drill-{word}",
        ),
    ]
