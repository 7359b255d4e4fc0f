"""`python -m coachdesk.ops.migrate_to app.migration ...`: the tables of an earlier version.

Made in the configured database; others.make_tables starts it.
"""

import sys

import django
from django.db import connection
from django.db.migrations.executor import MigrationExecutor


def main(names: list[str]) -> None:
    django.setup()
    wanted = [(app, name) for app, _, name in (word.partition(".") for word in names)]
    MigrationExecutor(connection).migrate(wanted)


if __name__ == "__main__":
    main(sys.argv[1:])
