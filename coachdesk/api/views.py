"""The OpenAPI document itself."""

from drf_spectacular.views import SpectacularAPIView
from rest_framework.permissions import IsAuthenticated


class DocumentView(SpectacularAPIView):
    """GET: OpenAPI 3.1 as JSON or YAML. The same for everybody who is signed in, by any token."""

    area = None
    permission_classes = [IsAuthenticated]
