"""Add the starter entries that a club's library lacks."""

from typing import Any

from django.core.management.base import BaseCommand

from athletes.models import Club
from reviews.library.starting import install_starter


class Command(BaseCommand):
    help = (
        "Adds the starter faults that clubs have no entry for, by lift and name. "
        "Edited and retired entries stay as they are; a renamed one is added again."
    )

    def handle(self, *args: Any, **options: Any) -> None:
        for club in Club.objects.order_by("pk"):
            self.stdout.write(f"{club}: {install_starter(club)} added")
