"""From SQLite to PostgreSQL: every row arrives, and the next new row gets a free number.

On PostgreSQL (bin/test runs this there as well) the way is from PostgreSQL to PostgreSQL.
"""

import psycopg
import pytest
from django.core.management import CommandError, call_command
from django.db import connection

from athletes.models import Club
from coachdesk.common.errors import Conflict
from coachdesk.ops import copy_rows
from coachdesk.ops.copy_rows import tables
from coachdesk.ops.other_database import other_database
from tests.access.world import build_world

pytestmark = pytest.mark.django_db(transaction=True)


def counted(url: str) -> dict[str, int]:
    """Rows of each table, as the other database's own client counts them."""
    with psycopg.connect(url) as other:
        return {
            name: other.execute(f'SELECT count(*) FROM "{name}"').fetchone()[0]
            for name in (model._meta.db_table for model in tables())
        }


def counted_here() -> dict[str, int]:
    with connection.cursor() as cursor:
        counts = {}
        for name in (model._meta.db_table for model in tables()):
            cursor.execute(f'SELECT count(*) FROM "{name}"')
            counts[name] = cursor.fetchone()[0]
        return counts


def test_every_row_arrives_as_it_was(cast, empty: str, capsys) -> None:
    build_world(cast.athlete, cast.coach)
    call_command("move_database", to=empty)
    assert counted(empty) == counted_here()
    assert sum(counted(empty).values()) > 100
    assert "equal on both sides" in capsys.readouterr().out
    with other_database(empty) as alias:  # a number that is free: the sequences went along
        last = Club.objects.order_by("-pk").values_list("pk", flat=True)[0]
        new = Club.objects.using(alias).bulk_create([Club(name="Founded after the move")])[0]
        assert new.pk > last


def test_a_target_in_use_is_refused_and_left_alone(cast, empty: str) -> None:
    with psycopg.connect(empty) as other:
        other.execute("CREATE TABLE somebody_elses (n int)")
    with pytest.raises(CommandError, match="not empty"):
        call_command("move_database", to=empty)
    with psycopg.connect(empty) as other:
        names = other.execute("SELECT tablename FROM pg_tables WHERE schemaname = 'public'")
        assert names.fetchall() == [("somebody_elses",)]


def test_what_arrives_otherwise_is_told_and_undone(cast, empty: str, monkeypatch) -> None:
    call_command("move_database", to=empty)
    before = counted(empty)
    Club.objects.create(name="One more")
    insert = copy_rows._insert

    def blunt(model, rows, target) -> None:
        for row in rows if model is Club else []:
            row.name = "the same"
        insert(model, rows, target)

    monkeypatch.setattr(copy_rows, "_insert", blunt)
    with other_database(empty) as alias, pytest.raises(Conflict, match="athletes_club arrived"):
        copy_rows.copy_all("default", alias)
    assert counted(empty) == before
