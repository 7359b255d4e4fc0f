"""How often one person, or one token, may ask. The answer 429 says when to come back."""

from typing import Any

from rest_framework.request import Request
from rest_framework.throttling import UserRateThrottle

from athletes.tokens.models import ApiToken


class TokenThrottle(UserRateThrottle):
    """Each token counts for itself, so that a program gone wild does not lock out its person.

    The pages save as people type and are not counted here.
    """

    scope = "token"

    def get_cache_key(self, request: Request, view: Any) -> str | None:
        if not isinstance(request.auth, ApiToken):
            return None
        return self.cache_format % {"scope": self.scope, "ident": request.auth.pk}
