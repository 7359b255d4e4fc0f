"""Making, finding and ending tokens."""

import secrets
from collections.abc import Iterable
from datetime import timedelta
from uuid import UUID

from django.db import transaction
from django.db.models import Q
from django.utils import timezone

from athletes.local_time import today_of
from athletes.models import User
from athletes.tokens.models import READ, WRITE, ApiToken, Area
from coachdesk.common.digests import digest_of
from coachdesk.common.errors import Invalid

PREFIX = "cdk_"  # lets a scanner of leaked secrets, and a person, see what it is
MOST_DAYS = 365
MOST_OPEN = 20
SCOPES = [f"{area}:{action}" for area in Area.values for action in (READ, WRITE)]


@transaction.atomic
def issue_token(*, user: User, name: str, scopes: Iterable[str], days: int) -> tuple[ApiToken, str]:
    """A new token and its secret, which nobody can be shown again. One transaction.

    Raises Invalid: no name, nothing it may do, a time out of range, or too many.
    """
    chosen = [scope for scope in SCOPES if scope in set(scopes)]
    if not name.strip():
        raise Invalid("Give it a name: what will use it?")
    if not chosen:
        raise Invalid("Choose at least one thing it may do.")
    if not 1 <= days <= MOST_DAYS:
        raise Invalid(f"It can last from 1 to {MOST_DAYS} days.")
    User.objects.select_for_update().get(pk=user.pk)
    now = timezone.now()
    if user.api_tokens.filter(revoked_at=None, expires_at__gt=now).count() >= MOST_OPEN:
        raise Invalid(f"{MOST_OPEN} tokens are open. End one first.")
    secret = PREFIX + secrets.token_urlsafe(32)
    token = ApiToken.objects.create(
        user=user,
        name=name.strip(),
        digest=digest_of(secret),
        scopes=chosen,
        expires_at=now + timedelta(days=days),
    )
    return token, secret


@transaction.atomic
def revoke_token(*, user: User, token_id: UUID) -> bool:
    """End it now; False when it was not this person's, or ended already. One transaction."""
    open_ = ApiToken.objects.filter(user=user, pk=token_id, revoked_at=None)
    return bool(open_.update(revoked_at=timezone.now()))


def open_token(secret: str) -> ApiToken | None:
    """The open token of an active person, noted as used today. At most one write a day."""
    found = ApiToken.objects.select_related("user__club", "user__main_coach")
    token = found.filter(digest=digest_of(secret)).first()
    if token is None or not token.is_open or not token.user.is_active:
        return None
    today = today_of(token.user)
    if token.last_used_on != today:
        unnoted = ~Q(last_used_on=today) | Q(last_used_on=None)
        ApiToken.objects.filter(unnoted, pk=token.pk).update(last_used_on=today)
    return token
