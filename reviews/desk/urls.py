from django.urls import path

from reviews.desk import hand_views, views

urlpatterns = [
    path("desk/", views.desk, name="desk"),
    path("desk/tonight/", views.set_tonight, name="desk-tonight"),
    path("desk/next/", views.open_next, name="desk-next"),
    path("desk/<uuid:pk>/claim/", views.claim_one, name="desk-claim"),
    path("desk/<uuid:pk>/release/", views.release_one, name="desk-release"),
    path("desk/<uuid:pk>/hand/", hand_views.hand, name="desk-hand"),
]
