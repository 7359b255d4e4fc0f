"""Pages and REST about people."""

from django.urls import path

from athletes.api import (
    DeactivateView,
    InvitationsView,
    InvitationView,
    MeView,
    PeopleView,
    PersonView,
    ReactivateView,
)
from athletes.tokens import views as tokens
from athletes.views import join, pain, people, person, profile
from athletes.webhooks import views as webhooks
from athletes.webhooks.api import DeliveriesView, WebhooksView, WebhookView

urlpatterns = [
    path("people/", people.people, name="people"),
    path("people/invite/", people.invite, name="invite"),
    path("people/invitations/<int:pk>/withdraw/", people.withdraw, name="invitation-withdraw"),
    path("people/<int:pk>/", person.person, name="person"),
    path("people/<int:pk>/deactivate/", person.deactivate, name="person-deactivate"),
    path("people/<int:pk>/bring-back/", person.reactivate, name="person-bring-back"),
    path("pain/<uuid:pk>/close/", pain.close, name="pain-close"),
    path("pain/<uuid:pk>/reopen/", pain.reopen, name="pain-reopen"),
    path("me/", profile.profile, name="profile"),
    path("club/webhooks/", webhooks.webhooks, name="webhooks"),
    path("club/webhooks/<uuid:pk>/", webhooks.deliveries, name="webhook"),
    path("club/webhooks/<uuid:pk>/end/", webhooks.end, name="webhook-end"),
    path("me/tokens/", tokens.tokens, name="tokens"),
    path("me/tokens/<uuid:pk>/end/", tokens.end_token, name="token-end"),
    path("join/<str:token>/", join.join, name="join"),
]

# Under /api/v1/.
api = [
    path("me/", MeView.as_view(), name="api-me"),
    path("people/", PeopleView.as_view(), name="api-people"),
    path("people/<int:pk>/", PersonView.as_view(), name="api-person"),
    path("people/<int:pk>/close/", DeactivateView.as_view(), name="api-person-close"),
    path("people/<int:pk>/bring-back/", ReactivateView.as_view(), name="api-person-bring-back"),
    path("webhooks/", WebhooksView.as_view(), name="api-webhooks"),
    path("webhooks/<uuid:pk>/", WebhookView.as_view(), name="api-webhook"),
    path("webhooks/<uuid:pk>/deliveries/", DeliveriesView.as_view(), name="api-deliveries"),
    path("invitations/", InvitationsView.as_view(), name="api-invitations"),
    path("invitations/<int:pk>/", InvitationView.as_view(), name="api-invitation"),
]
