"""What is answered where no view does: in words for a program, as a page for a person."""

import sys

from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.middleware.csrf import get_token
from django.template import loader
from django.views import defaults

from coachdesk.common.api.problems import problem
from reviews.media.machine import part_at_fault

API = "/api/"
DISK_FULL = "This was not saved. What was saved before is safe."
SECRET = ("password", "code", "credential")


def disk_full(request: HttpRequest) -> HttpResponseBase:
    """507 (RFC 4918, section 11.5) instead of 500: what was sent, for a later try. A form goes on
    from the page itself; only what is secret has to be typed again."""
    if _by_program(request):
        return problem(507, f"{DISK_FULL} Try again when there is room.")
    sent = [(name, value) for name, values in request.POST.lists() for value in values]
    secret = any(word in name for name, _ in sent for word in SECRET)
    keep = request.method == "POST" and bool(sent) and not secret and not request.FILES
    page = {
        "csrf_token": get_token(request),
        "sentence": DISK_FULL,
        "fields": [it for it in sent if it[0] != "csrfmiddlewaretoken"] if keep else [],
        "retry": request.get_full_path() if keep else "",
    }
    # Without the request: what a masthead asks for may be what is full.
    return HttpResponse(loader.render_to_string("507.html", page), status=507)


def _by_program(request: HttpRequest) -> bool:
    """At the API's addresses, or with a token at another: clips and uploads have their own."""
    return request.path.startswith(API) or "Authorization" in request.headers


def not_found(request: HttpRequest, exception: Exception) -> HttpResponseBase:
    if _by_program(request):
        return problem(404, "There is nothing at this address.")
    return defaults.page_not_found(request, exception)


def bad_request(request: HttpRequest, exception: Exception) -> HttpResponseBase:
    if _by_program(request):
        return problem(400, "This request cannot be read.")
    return defaults.bad_request(request, exception)


def server_error(request: HttpRequest) -> HttpResponseBase:
    if part_at_fault(sys.exception()) == "disk":
        return disk_full(request)
    if _by_program(request):
        return problem(500, "Something broke here. It was noted; try again later.")
    return defaults.server_error(request)
