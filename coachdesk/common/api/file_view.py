"""Files for pages and programs alike: by the session or by a token, refusals as JSON."""

from typing import Any

from rest_framework.request import Request
from rest_framework.views import APIView


class FileView(APIView):
    """Whatever kind is asked for, it is the one there is. A browser and a program go through the
    same door: an address that the API names opens with the token that was told it."""

    http_method_names = ["get", "head", "options"]

    def perform_content_negotiation(self, request: Request, force: bool = False) -> Any:
        return super().perform_content_negotiation(request, force=True)
