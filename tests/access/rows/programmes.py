"""Programmes, plates and the calendar."""

from datetime import timedelta

from athletes.local_time import today_of
from programming.plans.models import Prescription
from programming.plans.services.share_calendar import open_feed
from tests.access.expecting import (
    Row,
    api,
    athletes_page,
    coached,
    coaches_page,
    everyone,
    shared,
)
from tests.access.world import World
from tests.programming.plans.build import a_programme, a_row


def person(world: World) -> dict[str, object]:
    return {"pk": world.athlete.pk}


def programme(world: World) -> dict[str, object]:
    """One still to come, with one line; made when it is asked for."""
    soon = today_of(world.athlete) + timedelta(days=7)
    made = a_programme(world.coach, world.athlete, weeks=1, weekdays=[0, 3], starts_on=soon)
    a_row(made)
    return {"pk": made.pk}


def cells(world: World) -> dict[str, object]:
    line = Prescription.objects.get(session__programme__athlete=world.athlete)
    cell = {"session": str(line.session_id), "row": str(line.row), "text": "3x3 @ 80%"}
    return {"seen": 2, "cells": [cell]}


PLATES = {"unit": "kg", "bar": "20", "pairs": "25x4, 10x1"}
NEW = {"name": "Next", "starts_on": "2099-01-05", "weeks": "2", "weekdays": ["0", "3"]}

ROWS = [
    Row("programme", {**coached(200, athletes=404), "athlete": 302}, args=person),
    Row("programme-start", coached(302), "POST", args=person, data=lambda world: NEW),
    Row("programmes", coaches_page(200)),
    Row("programmes", coaches_page(302), "POST",
        data=lambda world: {"name": "Base", "weeks": "4", "weekdays": ["0"]}),
    Row("programme-grid", coached(200), args=programme),
    Row("programme-change", coached(302), "POST", args=programme,
        data=lambda world: {"do": "add-session", "seen": "2", "weekday": "5", "from_week": "1"}),
    Row("programme-change", coached(404), "POST", args=programme,
        data=lambda world: {"do": "anything"}, about="unknown deed"),
    Row("programme-sheet", shared(200), args=programme),
    Row("plates", shared(200), args=person),
    Row("plates", shared(302), "POST", args=person, data=lambda world: PLATES),
    Row("my-programme", athletes_page(200, coaches=302)),
    Row("calendar-settings", athletes_page(200, coaches=302)),
    Row("calendar-settings", athletes_page(200, coaches=302), "POST",
        data=lambda world: {"do": "open"}),
    # The address is the right to read: a calendar program cannot sign in.
    Row("calendar-feed", everyone(200),
        args=lambda world: {"token": open_feed(athlete=world.athlete)}),
    Row("calendar-feed", everyone(404), args=lambda world: {"token": "guessed"}, about="guessed"),
    api("api-cells", coached(200, athletes=404), method="PATCH", args=programme, data=cells),
]  # fmt: skip
