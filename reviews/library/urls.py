from django.urls import path

from reviews.library.views import changing, hanging, merging, reading

ONE = "library/<int:pk>/"
HANGING = f"{ONE}<slug:kind>/<int:entry>/"  # kind: "cues" or "drills"

urlpatterns = [
    path("library/", reading.library, name="library"),
    path("library/add/", changing.add, name="library-add"),
    path(ONE, reading.fault, name="library-fault"),
    path(f"{ONE}edit/", changing.edit, name="library-edit"),
    path(f"{ONE}retire/", changing.retire_fault, name="library-retire"),
    path(f"{ONE}bring-back/", changing.bring_back_fault, name="library-bring-back"),
    path(f"{ONE}merge/", merging.merge_fault, name="library-merge"),
    path(f"{ONE}<slug:kind>/add/", hanging.add, name="library-hang"),
    path(f"{HANGING}edit/", hanging.edit, name="library-hang-edit"),
    path(f"{HANGING}merge/", merging.merge_hung, name="library-hang-merge"),
    path(f"{HANGING}retire/", hanging.retire_one, name="library-hang-retire"),
    path(f"{HANGING}bring-back/", hanging.bring_back_one, name="library-hang-bring-back"),
]
