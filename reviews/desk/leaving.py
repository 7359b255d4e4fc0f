"""A coach who leaves holds nothing on the desk any more."""

from typing import Any

from django.dispatch import receiver
from django.utils import timezone

from athletes.models import User
from athletes.services.membership import coach_left
from reviews.desk.models import Claim


@receiver(coach_left)
def give_back(person: User, **kwargs: Any) -> None:
    """Everything they had claimed or were handed is free for the other coaches, at once."""
    now = timezone.now()
    Claim.objects.filter(coach=person, until__gt=now).update(until=now, handed_by=None)
