"""Pages about people."""

from django.urls import path

from athletes.tokens import views as tokens
from athletes.views import joining, pain, people, person, profile
from athletes.webhooks import views as webhooks

urlpatterns = [
    path("people/", people.people, name="people"),
    path("people/invite/", people.invite, name="invite"),
    path("people/invitations/<int:pk>/withdraw/", people.withdraw, name="invitation-withdraw"),
    path("people/<int:pk>/", person.person, name="person"),
    path("people/<int:pk>/deactivate/", person.deactivate, name="person-deactivate"),
    path("people/<int:pk>/bring-back/", person.bring_back, name="person-bring-back"),
    path("pain/<uuid:pk>/close/", pain.close, name="pain-close"),
    path("pain/<uuid:pk>/reopen/", pain.reopen, name="pain-reopen"),
    path("me/", profile.profile, name="profile"),
    path("club/webhooks/", webhooks.webhooks, name="webhooks"),
    path("club/webhooks/<uuid:pk>/", webhooks.deliveries, name="webhook"),
    path("club/webhooks/<uuid:pk>/end/", webhooks.end, name="webhook-end"),
    path("me/tokens/", tokens.tokens, name="tokens"),
    path("me/tokens/<uuid:pk>/end/", tokens.end_token, name="token-end"),
    path("join/<str:token>/", joining.join, name="join"),
]
