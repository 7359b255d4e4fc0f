"""The OpenAPI document itself."""

from functools import cache
from typing import Any

from drf_spectacular.generators import SchemaGenerator
from drf_spectacular.views import SpectacularAPIView
from rest_framework.permissions import IsAuthenticated


@cache
def document() -> dict[str, Any]:
    """The OpenAPI document. It takes a third of a second to make and changes only with the code."""
    return SchemaGenerator().get_schema(request=None, public=True)


class KeptGenerator(SchemaGenerator):
    def get_schema(self, request: Any = None, public: bool = False) -> dict[str, Any]:
        return document()


class DocumentView(SpectacularAPIView):
    """GET: OpenAPI 3.1 as JSON or YAML. The same for everybody who is signed in, by any token."""

    area = None
    generator_class = KeptGenerator
    permission_classes = [IsAuthenticated]
