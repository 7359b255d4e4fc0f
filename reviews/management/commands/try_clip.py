"""`manage.py try_clip FILE --out DIR`: is this file a clip? No database, no broker, no server."""

import json
import sys
from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand

from reviews.media.limits import Limits
from reviews.media.trying import try_clip

FAILED = 2


class Command(BaseCommand):
    help = "Make one file playable and print what came of it as one JSON object."
    requires_system_checks: list[str] = []

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("file", type=Path)
        parser.add_argument("--out", type=Path, required=True, metavar="DIR")

    def handle(self, *args: Any, **options: Any) -> None:
        answer = try_clip(options["file"], options["out"], Limits())
        self.stdout.write(json.dumps(answer, ensure_ascii=False))
        if answer["outcome"] != "playable":
            sys.exit(FAILED)
