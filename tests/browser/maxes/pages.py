"""Movements and maxes, in the states a coach and an athlete meet."""

from decimal import Decimal

from django.urls import reverse

from athletes.local_time import today_of
from athletes.models import User
from programming.logs.services.refresh_maxes import rebuild_maxes
from programming.logs.services.set_max import set_max
from programming.models import Movement
from programming.movements.services import rebuild_movement, retire_movement, save_movement
from tests.browser.pages import Look
from tests.conftest import Cast
from tests.programming.maxes.lifting import day, judged, lifted

LONG = "High-bar squat to a box, safety bar, heels raised, rebuilt from the start"


def shipped(name: str, family: str) -> Movement:
    # Not get(): a live server's test begins on an emptied database, shipped rows included.
    return Movement.objects.get_or_create(club=None, name=name, defaults={"family": family})[0]


def trained(athlete: User, coach: User) -> None:
    """A gap between the maxes, an exact single, an open end, one by hand, a rebuilt lift."""
    squat, dead, bench, press = (
        shipped("Low-bar squat", "squat"),
        shipped("Conventional deadlift", "deadlift"),
        shipped("Paused bench press", "bench"),
        shipped("Overhead press", "press"),
    )
    judged(athlete, day(0), "140", "sss", "9", movement=squat)
    judged(athlete, day(7), "155", "snn", "9", movement=squat)
    judged(athlete, day(9), "150", "ssn", "8.5", movement=squat)
    judged(athlete, day(1), "180", "ss", "8.5", movement=dead)
    lifted(athlete, day(2), "202.5", 1, "10", movement=dead)
    lifted(athlete, day(3), "90", 4, movement=bench)
    lifted(athlete, day(4), "60", 3, "9", movement=press)
    rebuild_maxes(athlete=athlete)
    set_max(by=coach, athlete=athlete, movement=press, kind="technical", kg=Decimal(62),
                day=today_of(athlete), reason="Strict press at the gym's own meet")  # fmt: skip
    rebuild_movement(athlete=athlete, parent=squat, name=LONG)


def file(cast: Cast) -> str:
    trained(cast.athlete, cast.coach)
    return reverse("athlete-file", args=[cast.athlete.pk])


def history(cast: Cast) -> str:
    squat = shipped("Low-bar squat", "squat")
    loads = ["120", "120", "125", "130", "130", "130", "132.5", "135", "140"]
    for n, load in enumerate(loads):
        judged(cast.athlete, day(n), load, "sss", "8", movement=squat)
    for n, load in enumerate(["150", "147.5", "160"]):
        judged(cast.athlete, day(n + 10), load, "ssn", "9", movement=squat)
    trained(cast.athlete, cast.coach)
    return reverse("max-history", args=[cast.athlete.pk, squat.pk])


def mine(cast: Cast) -> str:
    trained(cast.athlete, cast.coach)
    return reverse("my-maxes")


def movements(cast: Cast) -> str:
    trained(cast.athlete, cast.coach)
    for name in ("Beltless low-bar squat", "Squat with the old bar"):
        made = Movement(family="squat", name=name, bar_position="low bar")
        save_movement(movement=made, by=cast.coach)
    retire_movement(movement=made)
    return reverse("movements")


def rebuilding(cast: Cast) -> str:
    squat = shipped("Low-bar squat", "squat")
    return reverse("movement-rebuild", args=[squat.pk]) + f"?athlete={cast.athlete.pk}"


def editing(cast: Cast) -> str:
    made = save_movement(
        movement=Movement(family="squat", name="Beltless low-bar squat"), by=cast.coach
    )
    return reverse("movement-edit", args=[made.pk])


PAGES = [
    Look("athlete-file", "coach", file),
    Look("athlete-file", "coach", lambda cast: reverse("athlete-file", args=[cast.athlete.pk]),
         state="empty"),
    Look("max-history", "coach", history),
    Look("my-maxes", "athlete", mine),
    Look("my-maxes", "athlete", lambda cast: reverse("my-maxes"), state="empty"),
    Look("movements", "coach", movements),
    Look("movements", "coach", lambda cast: f"{movements(cast)}?athlete={cast.athlete.pk}",
         state="of-one"),
    Look("movement-add", "coach", lambda cast: reverse("movement-add")),
    Look("movement-edit", "coach", editing),
    Look("movement-rebuild", "coach", rebuilding),
]  # fmt: skip
