"""Rows that many tests begin with. They lie in tables beside Django's own, and the database itself
puts them back: to save each by itself, test after test, took a tenth of the whole run."""

from django.apps import apps
from django.db import connection, transaction


def filled() -> list[str]:
    """Our tables that have rows."""
    models = apps.get_models(include_auto_created=True)
    return [model._meta.db_table for model in models if model._base_manager.exists()]


def keep(name: str, tables: list[str]) -> None:
    """Keep a copy of all rows of `tables` under a name."""
    with connection.cursor() as cursor:
        for table in tables:
            cursor.execute(f'CREATE TABLE "{name}_{table}" AS SELECT * FROM "{table}"')


def put_back(name: str, tables: list[str]) -> None:
    """What was kept, where it is not still there."""
    with transaction.atomic(), connection.cursor() as cursor:
        for table in tables:
            rows = f'SELECT * FROM "{name}_{table}" WHERE true'
            cursor.execute(f'INSERT INTO "{table}" {rows} ON CONFLICT DO NOTHING')


def empty(tables: list[str]) -> None:
    with transaction.atomic(), connection.cursor() as cursor:
        for table in tables:
            cursor.execute(f'DELETE FROM "{table}"')
