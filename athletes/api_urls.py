"""REST of people, under /api/v1/."""

from django.urls import path

from athletes.api import InvitationsView, InvitationView, MeView, PeopleView

urlpatterns = [
    path("me/", MeView.as_view(), name="api-me"),
    path("people/", PeopleView.as_view(), name="api-people"),
    path("invitations/", InvitationsView.as_view(), name="api-invitations"),
    path("invitations/<int:pk>/", InvitationView.as_view(), name="api-invitation"),
]
