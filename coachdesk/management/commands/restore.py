"""Fill an empty database and storage from a backup."""

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from coachdesk.common.errors import Conflict
from coachdesk.ops.restore import restore


class Command(BaseCommand):
    help = "Check FILE, then fill the configured, empty database and storage from it."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", type=Path)

    def handle(self, *args: Any, **options: Any) -> None:
        try:
            done = restore(options["file"].resolve())
        except (Conflict, OSError) as reason:
            raise CommandError(str(reason)) from reason
        rows = sum(done.counts.values())
        self.stdout.write(f"{rows} rows and {done.files} files, equal to the backup.")
