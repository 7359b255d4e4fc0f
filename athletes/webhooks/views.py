"""The owner's pages: where the club's programs are told, and how that went."""

from typing import Any
from uuid import UUID

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from athletes.permissions import owner_required, signed_in
from athletes.webhooks.forms import WebhookForm
from athletes.webhooks.selectors import open_webhooks
from athletes.webhooks.services import InvalidWebhook, add_webhook, address_problem, end_webhook

NEWEST = 100


@owner_required
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def webhooks(request: HttpRequest) -> HttpResponse:
    """The secret is shown in the answer to its making, and never again."""
    user = signed_in(request)
    form = WebhookForm(request.POST or None)
    secret = ""
    if request.method == "POST" and form.is_valid():
        try:
            problem = address_problem(form.cleaned_data["url"])
            _, secret = add_webhook(by=user, **form.cleaned_data, address_problem=problem)
            form = WebhookForm()
        except InvalidWebhook as why:
            form.add_error("url", str(why))
    refused = request.method == "POST" and not secret
    page: dict[str, Any] = {"form": form, "secret": secret, "hooks": list(open_webhooks(user))}
    return render(request, "athletes/webhooks.html", page, status=422 if refused else 200)


@owner_required
@require_safe
def deliveries(request: HttpRequest, pk: UUID) -> HttpResponse:
    hook = get_object_or_404(open_webhooks(signed_in(request)), pk=pk)
    page = {"hook": hook, "deliveries": hook.deliveries.all()[:NEWEST], "newest": NEWEST}
    return render(request, "athletes/webhook.html", page)


@owner_required
@require_POST
def end(request: HttpRequest, pk: UUID) -> HttpResponse:
    hook = get_object_or_404(open_webhooks(signed_in(request)), pk=pk)
    end_webhook(by=signed_in(request), webhook_id=hook.pk)
    messages.success(request, "Ended. Nothing is sent there any more.")
    return redirect("webhooks")
