"""Every address of the site."""

from allauth.account.decorators import secure_admin_login
from django.contrib import admin
from django.urls import include, path

import athletes.urls
import programming.urls
from coachdesk.ops.health import live, ready
from coachdesk.ops.server_page import clip_again, server
from coachdesk.views import home

# One door: the admin's sign-in goes through allauth, with its rate limits and codes.
admin.site.login = secure_admin_login(admin.site.login)  # type: ignore[method-assign]

handler400 = "coachdesk.error_pages.bad_request"
handler404 = "coachdesk.error_pages.not_found"
handler500 = "coachdesk.error_pages.server_error"

urlpatterns = [
    path("", home, name="home"),
    path("accounts/", include("allauth.urls")),
    path("admin/", admin.site.urls),
    path("api/v1/", include("coachdesk.api.urls")),
    path("api/v1/", include(athletes.urls.api)),
    path("api/v1/", include(programming.urls.api)),
    path("api/v1/", include("reviews.api_urls")),
    path("club/server/", server, name="server"),
    path("club/server/clips/<uuid:pk>/again/", clip_again, name="clip-again"),
    path("health/live", live, name="health-live"),
    path("health/ready", ready, name="health-ready"),
    path("", include("athletes.urls")),
    path("", include("programming.urls")),
    path("", include("reviews.urls")),
]
