"""Say how everything is; ends with 1 when something is not well."""

from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from coachdesk.ops.doctor import findings


class Command(BaseCommand):
    help = "Parts, versions, migrations, missing or orphaned files, and a sample of checksums."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--sample", type=int, default=20, help="originals to read whole (20)")

    def handle(self, *args: Any, **options: Any) -> None:
        unwell = 0
        for finding in findings(sample=options["sample"]):
            mark = "ok " if finding.well else "NOT"
            self.stdout.write(f"{mark}  {finding.subject:11} {finding.said}")
            unwell += not finding.well
        if unwell:
            raise SystemExit(1)
