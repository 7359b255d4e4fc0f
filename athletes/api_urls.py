"""REST of people, under /api/v1/."""

from django.urls import path

from athletes.api import InvitationsView, InvitationView, MeView, PeopleView
from athletes.people_api import BringingBackView, ClosingView, PersonView
from athletes.webhooks.api import DeliveriesView, WebhooksView, WebhookView

urlpatterns = [
    path("me/", MeView.as_view(), name="api-me"),
    path("people/", PeopleView.as_view(), name="api-people"),
    path("people/<int:pk>/", PersonView.as_view(), name="api-person"),
    path("people/<int:pk>/close/", ClosingView.as_view(), name="api-person-close"),
    path("people/<int:pk>/bring-back/", BringingBackView.as_view(), name="api-person-bring-back"),
    path("webhooks/", WebhooksView.as_view(), name="api-webhooks"),
    path("webhooks/<uuid:pk>/", WebhookView.as_view(), name="api-webhook"),
    path("webhooks/<uuid:pk>/deliveries/", DeliveriesView.as_view(), name="api-deliveries"),
    path("invitations/", InvitationsView.as_view(), name="api-invitations"),
    path("invitations/<int:pk>/", InvitationView.as_view(), name="api-invitation"),
]
