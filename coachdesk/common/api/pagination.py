"""Lists of the API, a part at a time."""

from typing import Any

from django.db.models import QuerySet
from rest_framework.pagination import CursorPagination
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.serializers import BaseSerializer
from rest_framework.views import APIView


class RowPagination(CursorPagination):
    """``next`` is the address of what follows. A row that is added meanwhile shifts nothing."""

    page_size = 50


def paginated_response(
    rows: QuerySet[Any],
    serializer: type[BaseSerializer[Any]],
    *,
    request: Request,
    view: APIView,
    by: str,
    **context: Any,
) -> Response:
    """One page of ``rows`` in the order of ``by``, a field that never changes, then the key."""
    pages = RowPagination()
    pages.ordering = (by, "-pk" if by.startswith("-") else "pk")
    found = pages.paginate_queryset(rows, request, view)
    return pages.get_paginated_response(serializer(found, many=True, context=context).data)
