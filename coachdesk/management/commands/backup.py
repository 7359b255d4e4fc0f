"""Write one file that holds everything, while the site runs."""

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.template.defaultfilters import filesizeformat

from coachdesk.common.errors import Conflict
from coachdesk.ops.backup import write_backup


class Command(BaseCommand):
    help = "Write the database, every clip and the signing key to FILE; the site may go on."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", type=Path)

    def handle(self, *args: Any, **options: Any) -> None:
        try:
            taken = write_backup(options["file"].resolve())
        except (Conflict, OSError) as reason:
            raise CommandError(str(reason)) from reason
        size = filesizeformat(taken.bytes)
        self.stdout.write(f"The database and {taken.files} files ({size}): {options['file']}")
        for name in taken.lost:
            self.stdout.write(f"Removed while the backup ran: {name}")
