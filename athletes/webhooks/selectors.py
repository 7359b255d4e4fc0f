"""Reads about webhooks."""

from django.db.models import QuerySet

from athletes.models import User
from athletes.webhooks.models import Webhook


def open_webhooks(user: User) -> QuerySet[Webhook]:
    """The webhooks an owner may see and end; nobody else's business."""
    mine = Webhook.objects.filter(club_id=user.club_id, ended_at=None)
    return mine if user.is_owner else mine.none()
