"""Every row from one database to another, of whatever kind, exactly as it is stored."""

import hashlib
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from django.apps import apps
from django.core.management.color import no_style
from django.db import connections, models, transaction
from django.db.migrations.graph import Node
from django.db.migrations.loader import MigrationLoader

from coachdesk.common.errors import Conflict
from coachdesk.ops.other_database import make_tables, other_database, refuse_unless_empty

BATCH = 500
Counts = dict[str, int]  # rows of each table


def tables() -> list[type[models.Model]]:
    """Every model with a table of its own, those of many-to-many relations too."""
    every = apps.get_models(include_auto_created=True)
    return [model for model in every if model._meta.managed and not model._meta.proxy]


def tables_as_migrated(alias: str) -> tuple[list[str], list[type[models.Model]]]:
    """Each app's last migrations that a database has, and the models as those left its tables.

    Before an upgrade they are not the models of the code that is about to upgrade it.
    """
    loader = MigrationLoader(connections[alias])
    done = {key for key in loader.applied_migrations if key in loader.graph.nodes}
    last = [key for key in done if not _next_in_app(loader.graph.node_map[key]) & done]
    historical = loader.project_state(last).apps.get_models(include_auto_created=True)
    kept = [model for model in historical if model._meta.managed and not model._meta.proxy]
    return sorted(".".join(key) for key in last), kept


def _next_in_app(node: Node) -> set[tuple[str, str]]:
    return {child.key for child in node.children if child.key[0] == node.key[0]}


def copy_all(source: str, target: str, every: list[type[models.Model]] | None = None) -> Counts:
    """Replace the rows of `target` by those of `source`; how many of each table.

    `every` names the models where the tables are those of an earlier version.

    One transaction on each side: the source is one moment's, the target gets all or nothing.
    Raises Conflict when what arrived is not what was read.
    """
    every = tables() if every is None else every
    with frozen(source), transaction.atomic(using=target):
        for model in every:
            model._base_manager.using(target).all()._raw_delete(target)
        for model in every:
            _copy(model, source, target)
        _reset_sequences(target, every)
        return verify(source, target, every)


def move_database(*, url: str) -> Counts:
    """Copy every row of the configured database to the empty one at `url`; the counts.

    One transaction there; here nobody writes meanwhile (SQLite) or a snapshot is read. Raises
    Conflict, and then the target has at most empty tables.
    """
    with other_database(url) as target:
        refuse_unless_empty(target)
        make_tables(url)
        return copy_all("default", target)


@contextmanager
def frozen(alias: str) -> Iterator[None]:
    """A transaction in which the database stands still for whoever reads it."""
    connection = connections[alias]
    outermost = not connection.in_atomic_block
    with transaction.atomic(using=alias):
        if outermost and connection.vendor == "postgresql":
            # By default it shows each statement a newer state; to be said before the first.
            with connection.cursor() as cursor:
                cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ")
        yield


def verify(source: str, target: str, every: list[type[models.Model]]) -> Counts:
    """Count and compare every table. Raises Conflict naming the first one that differs."""
    counts = {}
    for model in every:
        here, there = digest_of(model, source), digest_of(model, target)
        if here != there:
            raise Conflict(
                f"{model._meta.db_table} arrived with {there[0]} rows of {here[0]}, or with other "
                "values. Nothing was changed."
            )
        counts[model._meta.db_table] = here[0]
    return counts


def digest_of(model: type[models.Model], alias: str) -> tuple[int, str]:
    """The number of rows of a table and a SHA-256 of all their values, in order of the key."""
    digest, count = hashlib.sha256(), 0
    for row in _rows(model, alias):
        values = [getattr(row, field.attname) for field in model._meta.concrete_fields]
        digest.update(repr([_plain(value) for value in values]).encode())
        count += 1
    return count, digest.hexdigest()


def _plain(value: Any) -> Any:
    """The same words for the same value, whichever database spoke them."""
    if isinstance(value, dict):
        return sorted((key, _plain(inner)) for key, inner in value.items())
    if isinstance(value, (list, tuple)):
        return [_plain(inner) for inner in value]
    if isinstance(value, (bytes, memoryview)):
        return bytes(value)
    return value


def _rows(model: type[models.Model], alias: str) -> Iterator[models.Model]:
    rows = model._base_manager.using(alias).order_by("pk")
    if isinstance(model._meta.pk, (models.CharField, models.TextField)):
        # Sessions: each database sorts text by rules of its own.
        return iter(sorted(rows, key=lambda row: str(row.pk)))
    return rows.iterator(chunk_size=BATCH)


def _copy(model: type[models.Model], source: str, target: str) -> None:
    fields = model._meta.local_concrete_fields
    most = max(1, connections[target].ops.bulk_batch_size(list(fields), [None] * BATCH))
    waiting: list[models.Model] = []
    for row in _rows(model, source):
        waiting.append(row)
        if len(waiting) >= most:
            _insert(model, waiting, target)
            waiting = []
    if waiting:
        _insert(model, waiting, target)


def _insert(model: type[models.Model], rows: list[models.Model], target: str) -> None:
    """As the rows are: a save would move "last saved" to now and meet the guards of what is
    never rewritten."""
    fields = model._meta.local_concrete_fields
    manager: Any = model._base_manager
    manager.using(target)._insert(rows, fields=fields, using=target, raw=True)


def _reset_sequences(alias: str, every: list[type[models.Model]]) -> None:
    """Or the next new row would be given a number that was copied."""
    connection = connections[alias]
    with connection.cursor() as cursor:
        for statement in connection.ops.sequence_reset_sql(no_style(), every):
            cursor.execute(statement)
