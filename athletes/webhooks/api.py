"""REST of a club's webhooks: the owner's alone."""

from typing import Any
from uuid import UUID

from django.http import HttpRequest
from django.shortcuts import get_object_or_404
from rest_framework.exceptions import APIException, PermissionDenied
from rest_framework.parsers import JSONParser
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from athletes.permissions import signed_in
from athletes.webhooks.schemas import DeliveryOut, WebhookIn, WebhookMade, WebhookOut
from athletes.webhooks.selectors import open_webhooks
from athletes.webhooks.services import add_webhook, address_problem, end_webhook
from coachdesk.common.api.pagination import paginated_response
from coachdesk.common.api.schema import list_schema, operation_schema


class OwnersOnly(APIView):
    """Everybody else gets 403 before anything is looked at."""

    def initial(self, request: Request, *args: Any, **kwargs: Any) -> None:
        super().initial(request, *args, **kwargs)
        if not signed_in(request).is_owner:
            raise PermissionDenied("This is the owner's.")


class WebhooksView(OwnersOnly):
    """Those that are told now, the newest first. POST adds one; its secret is in the answer."""

    secret_fields = ("secret",)

    @staticmethod
    def prepare(request: HttpRequest) -> None:
        """Asks the network about the address, before the transaction in which a request with an
        Idempotency-Key is answered. What is wrong with the body itself, post() says."""
        try:
            form = WebhookIn(data=Request(request, parsers=[JSONParser()]).data)
        except APIException:
            return
        if form.is_valid():
            request.address_problem = address_problem(form.validated_data["url"])  # type: ignore[attr-defined]

    @list_schema("club", WebhookOut, operation_id="webhooks_list")
    def get(self, request: Request) -> Response:
        rows = open_webhooks(signed_in(request))
        return paginated_response(rows, WebhookOut, request=request, view=self, by="-made_at")

    @operation_schema("club", WebhookIn, WebhookMade, 201)
    def post(self, request: Request) -> Response:
        sent = WebhookIn(data=request.data)
        sent.is_valid(raise_exception=True)
        problem = getattr(request, "address_problem", None)  # of prepare()
        if problem is None:
            problem = address_problem(sent.validated_data["url"])
        made, secret = add_webhook(
            by=signed_in(request), **sent.validated_data, address_problem=problem
        )
        return Response({**WebhookOut(made).data, "secret": secret}, status=201)


class WebhookView(OwnersOnly):
    """DELETE ends it: nothing is sent there any more."""

    @operation_schema("club", status=204)
    def delete(self, request: Request, pk: UUID) -> Response:
        hook = get_object_or_404(open_webhooks(signed_in(request)), pk=pk)
        end_webhook(by=signed_in(request), webhook_id=hook.pk)
        return Response(status=204)


class DeliveriesView(OwnersOnly):
    """What was told there, and how that went; the newest first."""

    @list_schema("club", DeliveryOut, operation_id="deliveries_list")
    def get(self, request: Request, pk: UUID) -> Response:
        hook = get_object_or_404(open_webhooks(signed_in(request)), pk=pk)
        rows = hook.deliveries.all()
        return paginated_response(rows, DeliveryOut, request=request, view=self, by="-made_at")
