"""The load page: an athlete's own, and the coach's view of it."""

from datetime import date, datetime, time, timedelta
from typing import Any

import numpy as np
from django.contrib.auth.decorators import login_required
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_GET

from athletes.local_time import day_at, today_of, zone_of
from athletes.models import User
from athletes.permissions import coach_required, pain_reports_visible_to, signed_in
from coachdesk.common.units import KG_PER_LB
from programming.load.figures import Figure, Why
from programming.logs.load_measures import BY_KEY, MEASURES
from programming.logs.models import SetVerdict
from programming.logs.selectors.load_history import History, history_of
from programming.movements.families import Family
from programming.permissions import athletes_coached_by

SPANS = [13, 26, 52]


@coach_required
@require_GET
def athlete_load(request: HttpRequest, pk: int) -> HttpResponse:
    user = signed_in(request)
    return _page(request, user, get_object_or_404(athletes_coached_by(user), pk=pk))


@login_required
@require_GET
def my_load(request: HttpRequest) -> HttpResponse:
    """An athlete's own; a coach opens an athlete's file instead."""
    user = signed_in(request)
    if not user.is_athlete:
        raise PermissionDenied
    return _page(request, user, user)


def _page(request: HttpRequest, reader: User, athlete: User) -> HttpResponse:
    measure = _choice(request.GET.get("measure"), list(BY_KEY), "effort")
    family = _choice(request.GET.get("family"), Family.values, "")
    span = int(_choice(request.GET.get("weeks"), [str(n) for n in SPANS], "13"))
    history = history_of(
        athlete, measure=measure, family=family, last=today_of(athlete), count=span
    )
    shown = BY_KEY[measure]
    unit = reader.unit if shown.unit == "kg" else shown.unit
    scale = 1 / float(KG_PER_LB) if unit == "lb" else 1.0
    events = _events(reader, athlete, history) if history else []
    page = {
        "athlete": athlete,
        "own": reader == athlete,
        "measures": MEASURES,
        "measure": shown,
        "families": Family.choices,
        "family": family if shown.by_family else "",
        "span": span,
        "spans": SPANS,
        "unit": unit,
        "scale": scale,
        "history": history,
        "events": events,
        "hurts": any("report" in event for event in events),
        "chart": history and _chart(history, unit, scale),
        "averages": history and _averages(history),
    }
    return render(request, "programming/load/page.html", page)


def _choice(asked: str | None, of: list[str], otherwise: str) -> str:
    return asked if asked in of else otherwise


def _events(reader: User, athlete: User, history: History) -> list[dict[str, Any]]:
    """What hurt and which filmed sets broke, within the window, on the athlete's own dates."""
    start = datetime.combine(history.first, time.min, zone_of(athlete))
    reports = pain_reports_visible_to(reader).filter(athlete=athlete, reported_at__gte=start)
    events: list[dict[str, Any]] = [
        {"day": day_at(athlete, one.reported_at), "report": one}
        for one in reports
        if one.reported_at
    ]
    broken = SetVerdict.objects.filter(
        athlete=athlete, day__range=(history.first, history.last), not_to_standard__gt=0
    )
    events += [{"day": one.day, "broken": one} for one in broken.select_related("movement")]
    for event in events:
        event["at"] = _seconds(event["day"])
    return sorted(events, key=lambda event: event["day"])


def _chart(history: History, unit: str, scale: float) -> dict[str, Any]:
    """What the charts draw: seconds since 1970 at the start of a day, null where unknown."""
    return {
        "unit": unit,
        "weeks": [
            {
                "at": _seconds(line.monday),
                "total": None if line.week.total.value is None else line.week.total.value * scale,
                "partly": line.partly,
            }
            for line in history.lines
        ],
        "days": [_seconds(day) for day in history.days()],
        "seven": _plain(history.seven * scale),
        "month": _plain(history.month * scale),
        "from": _seconds(history.lines[0].monday),
        "to": _seconds(history.lines[-1].monday + timedelta(days=7)),
    }


def _averages(history: History) -> list[tuple[date, Figure, Figure]]:
    """By day, the newest first."""
    pairs = zip(history.seven.tolist(), history.month.tolist(), strict=True)
    lines = [
        (day, _figure(seven), _figure(month))
        for day, (seven, month) in zip(history.days(), pairs, strict=True)
    ]
    return lines[::-1]


def _figure(value: float) -> Figure:
    return Figure(why=Why.GAP) if np.isnan(value) else Figure(value)


def _seconds(day: date) -> int:
    return int(np.datetime64(day, "s").astype(np.int64))


def _plain(values: np.ndarray) -> list[float | None]:
    return [None if np.isnan(value) else round(float(value), 3) for value in values]
