"""`Authorization: Bearer` (RFC 6750) beside the pages' session."""

from django.utils import timezone
from drf_spectacular.extensions import OpenApiAuthenticationExtension
from rest_framework.authentication import BaseAuthentication, get_authorization_header
from rest_framework.exceptions import AuthenticationFailed
from rest_framework.request import Request

from athletes.local_time import zone_of
from athletes.models import User
from athletes.tokens.models import ApiToken
from athletes.tokens.services import open_token

SCHEME = "Bearer"
UNKNOWN = "This token is not valid: it was ended, has run out, or was never made."


class BearerAuthentication(BaseAuthentication):
    """The person a token was made by. A request without the header is left to the session."""

    def authenticate(self, request: Request) -> tuple[User, ApiToken] | None:
        said = get_authorization_header(request).split()
        if not said or said[0].lower() != SCHEME.lower().encode():
            return None
        try:
            (_, secret) = (part.decode("ascii") for part in said)
        except ValueError:  # several words, or letters no token has
            raise AuthenticationFailed(UNKNOWN) from None
        token = open_token(secret)
        if token is None:
            raise AuthenticationFailed(UNKNOWN)
        # As LocalTimeMiddleware does for a page: a sentence with a time is in the reader's zone.
        timezone.activate(zone_of(token.user))
        return token.user, token

    def authenticate_header(self, request: Request) -> str:
        return f'{SCHEME} realm="Coachdesk"'


class BearerScheme(OpenApiAuthenticationExtension):
    """How the OpenAPI document names it."""

    target_class = "athletes.tokens.authentication.BearerAuthentication"
    name = "token"

    def get_security_definition(self, auto_schema: object) -> dict[str, str]:
        return {"type": "http", "scheme": "bearer"}
