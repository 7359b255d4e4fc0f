"""Undoing a change of a programme's structure: every row comes back as it was, under its own id.

A change is kept as the rows that differ before and after it. Undoing puts those back, and only
where they still are as the change left them: cells that were typed elsewhere meanwhile stay. So a
deleted week returns with its lines, rules and notes, and with what named them: corrections that
ended, sessions that were begun. What was logged is never touched.
"""

from collections.abc import Callable
from datetime import timedelta
from typing import Any

from django.db import models, transaction
from django.db.models import F, Q
from django.utils import timezone

from athletes.models import User
from coachdesk.common.errors import Invalid
from programming.plans.models import (
    PlannedSession,
    Prescription,
    Programme,
    Progression,
    StructureChange,
)
from programming.plans.running_corrections import refuse_corrected
from programming.plans.services.lock_programme import lock, place_of, with_training

MOST_KEPT = 20  # a programme
OFFERED_FOR = timedelta(days=7)
TABLES: dict[str, type[models.Model]] = {
    "programme": Programme,
    "session": PlannedSession,
    "line": Prescription,
    "rule": Progression,
}
OF_PROGRAMME = {
    "programme": "pk",
    "session": "programme",
    "line": "session__programme",
    "rule": "programme",
}
FREE_PLACE = 1000  # above every position that a session can have

Values = dict[str, Any]
Rows = dict[str, dict[str, Values]]
Link = tuple[str, str, str, str]
Difference = list[tuple[str, str, Values | None, Values | None]]


@transaction.atomic
def record_change(*, programme: Programme, by: User, change: Callable[[], str]) -> str:
    """Make the change and keep how to undo it; gives the change's own sentence. One transaction."""
    before, links = _rows(programme), _links(programme)
    label = change()
    if not Programme.objects.filter(pk=programme.pk).exists():
        return label  # a template that was deleted takes its changes along
    difference = _difference(before, _rows(programme))
    if difference:
        gone = {pk for _, pk, _, after in difference if after is None}
        StructureChange.objects.create(
            programme=programme,
            label=label[:200],
            made_by=by,
            difference=difference,
            links=[link for link in links if link[3] in gone],
        )
        kept = programme.structure_changes.values_list("pk", flat=True)[:MOST_KEPT]
        programme.structure_changes.exclude(pk__in=list(kept)).delete()
    return label


def last_change(programme: Programme) -> StructureChange | None:
    """The one that can be undone next. One statement."""
    recent = programme.structure_changes.filter(made_at__gte=timezone.now() - OFFERED_FOR)
    return recent.select_related("made_by").first()


@transaction.atomic
def undo_change(*, programme: Programme, seen: int) -> StructureChange:
    """Undo the last one. One transaction. Raises Conflict, or Invalid where what it changed has
    been changed or trained since."""
    programme = lock(programme, seen=seen)
    change = last_change(programme)
    if change is None:
        raise Invalid("There is nothing to undo.")
    _refuse_changed(programme, change)
    _refuse_trained(programme, change)
    _restore(programme, change)
    change.delete()
    return change


def _rows(programme: Programme) -> Rows:
    """One statement a table."""
    return {
        name: {
            str(row.pk): _values(row)
            for row in model._base_manager.filter(**{OF_PROGRAMME[name]: programme.pk})
        }
        for name, model in TABLES.items()
    }


def _values(row: models.Model) -> Values:
    return {
        field.attname: None if field.value_from_object(row) is None else field.value_to_string(row)
        for field in row._meta.concrete_fields
        if field.attname != "revision"  # counts on, whatever is undone
    }


def _python(model: type[models.Model], values: Values) -> Values:
    fields = {field.attname: field for field in model._meta.concrete_fields}
    return {
        name: None if value is None else getattr(fields[name], "target_field", fields[name])
        .to_python(value)
        for name, value in values.items()
    }  # fmt: skip


def _difference(before: Rows, after: Rows) -> Difference:
    return [
        (name, pk, before[name].get(pk), after[name].get(pk))
        for name in TABLES
        for pk in before[name] | after[name]
        if before[name].get(pk) != after[name].get(pk)
    ]


def _links(programme: Programme) -> list[Link]:
    """Rows of other tables that name a session or a line and outlive it. One statement each."""
    links: list[Link] = []
    for name, field, model in _relations():
        mine = {f"{field.name}__{OF_PROGRAMME[name]}": programme.pk}
        named = model._base_manager.filter(**mine).values_list("pk", field.attname)
        links += [(model._meta.label, str(pk), field.attname, str(to)) for pk, to in named]
    return links


def _relations() -> list[tuple[str, Any, type[models.Model]]]:
    """(table, the field that names it, the field's model) of those that outlive a row of it."""
    return [
        (name, relation.field, relation.related_model)
        for name in ("session", "line")
        for relation in TABLES[name]._meta.related_objects
        if relation.on_delete is models.SET_NULL
    ]


def _refuse_changed(programme: Programme, change: StructureChange) -> None:
    now = _rows(programme)
    sorry = f"“{change.label}” cannot be undone any more: what it changed was changed since."
    added = {name: set[str]() for name in TABLES}
    for name, pk, before, after in change.difference:
        there = now[name].get(pk)
        if after is None:
            continue
        ours = after if before is None else {key for key in after if after[key] != before[key]}
        if there is None or any(there[key] != after[key] for key in ours):
            raise Invalid(sorry)
        if before is None:
            added[name].add(pk)
    for pk, line in now["line"].items():
        if line["session_id"] in added["session"] and pk not in added["line"]:
            raise Invalid(sorry)
    refuse_corrected(Prescription.objects.filter(pk__in=added["line"]))


def _refuse_trained(programme: Programme, change: StructureChange) -> None:
    """A session that was logged stays as it was prescribed."""
    sessions = {
        pk if name == "session" else after["session_id"]
        for name, pk, _, after in change.difference
        if after is not None and name in {"session", "line"}
    }
    for session in with_training(programme.sessions.filter(pk__in=sessions)):
        if session.is_trained:
            raise Invalid(
                f"“{change.label}” cannot be undone any more: sets of {place_of(session)} are "
                "logged, and what was prescribed stays beside what was done."
            )


def _restore(programme: Programme, change: StructureChange) -> None:
    for name in ("line", "rule", "session"):
        added = [pk for table, pk, before, _ in change.difference if table == name and not before]
        TABLES[name]._base_manager.filter(pk__in=added).delete()
    # Out of each other's places first: weeks that move up pass through one another.
    moved = [pk for table, pk, before, after in change.difference
             if table == "session" and before and after]  # fmt: skip
    programme.sessions.filter(pk__in=moved).update(position=F("position") + FREE_PLACE)
    for name, model in TABLES.items():
        for table, pk, before, after in change.difference:
            if table != name or before is None:
                continue
            values = _python(model, before)
            if after is None:
                model._base_manager.bulk_create([model(**values)])
            else:
                changed = {key for key in before if before[key] != after[key]}
                changed |= {"position"} if name == "session" else set()
                update = {key: values[key] for key in changed}
                model._base_manager.filter(pk=pk).update(**update)
    models_by_label = {model._meta.label: model for _, _, model in _relations()}
    for label, pk, column, to in change.links:
        empty = Q(pk=pk, **{f"{column}__isnull": True})
        models_by_label[label]._base_manager.filter(empty).update(**{column: to})
