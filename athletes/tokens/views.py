"""The page of one's own tokens. A secret is shown in the answer to its making, and never again."""

from uuid import UUID

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST

from athletes.permissions import signed_in
from athletes.tokens.forms import TokenForm
from athletes.tokens.services import issue_token, revoke_token
from coachdesk.common.errors import Invalid


@login_required
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def tokens(request: HttpRequest) -> HttpResponse:
    user = signed_in(request)
    form = TokenForm(request.POST or None)
    secret = ""
    if request.method == "POST" and form.is_valid():
        told = form.cleaned_data
        try:
            _, secret = issue_token(
                user=user, name=told["name"], scopes=form.scopes, days=told["days"]
            )
            form = TokenForm()
        except Invalid as why:
            form.add_error(None, str(why))
    refused = request.method == "POST" and not secret
    page = {"form": form, "secret": secret, "tokens": list(user.api_tokens.all())}
    return render(request, "athletes/tokens.html", page, status=422 if refused else 200)


@login_required
@require_POST
def end_token(request: HttpRequest, pk: UUID) -> HttpResponse:
    if revoke_token(user=signed_in(request), token_id=pk):
        messages.success(request, "Ended. Whatever used it is locked out now.")
    else:
        messages.info(request, "That token had ended already.")
    return redirect("tokens")
