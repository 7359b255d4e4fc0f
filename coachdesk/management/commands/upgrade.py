"""Migrate, with the way back: what bin/run and the compose file do at each start."""

from typing import Any

from django.core.management.base import BaseCommand
from django.db import connection
from django.db.migrations.executor import MigrationExecutor

from coachdesk.common.file_modes import restrict
from coachdesk.common.paths import DATA
from coachdesk.ops.upgrade import upgrade


class Command(BaseCommand):
    help = (
        "Bring the database to this version, and put everything back if that fails; "
        "close the data folder to other accounts."
    )

    def handle(self, *args: Any, **options: Any) -> None:
        restrict(DATA)  # files that an earlier version left open to everybody
        executor = MigrationExecutor(connection)
        steps = executor.migration_plan(executor.loader.graph.leaf_nodes())
        if not steps:
            self.say("The database is of this version already.", **options)
            return
        copy = upgrade()
        self.say(f"{len(steps)} migrations done." + (f" Before: {copy}" if copy else ""), **options)

    def say(self, sentence: str, *, verbosity: int, **options: Any) -> None:
        if verbosity:
            self.stdout.write(sentence)
