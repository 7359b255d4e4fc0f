"""The REST interface, where a page has no row of its own for it: same people, same answers."""

from typing import Any

from programming.models import Movement
from reviews.library.models import Cue, Drill, Fault
from tests.access.expecting import (
    Row,
    api,
    athletes_page,
    coached,
    coaches_page,
    mine,
    shared,
    signed_in,
)
from tests.access.rows.programmes import programme
from tests.access.rows.replies import prescribed
from tests.access.world import World

ANYBODY = signed_in(200)  # each sees what is theirs
ATHLETES = athletes_page(201, coaches=403)


def of(name: str) -> Any:
    return lambda world: {"submission_id": getattr(world, name).pk}


def fault(world: World) -> dict[str, object]:
    return {"pk": world.fault.pk}


def another_fault(world: World) -> dict[str, object]:
    of_its_lift = Fault.objects.filter(club=world.coach.club, family=world.fault.family)
    return {"into": of_its_lift.exclude(pk=world.fault.pk)[0].pk}


def cue(world: World) -> dict[str, object]:
    return {**fault(world), "entry": world.cue.pk}


def drill(world: World) -> dict[str, object]:
    made = Drill.objects.create(club=world.coach.club, name="Pause squat")
    world.fault.drills.add(made)
    return {**fault(world), "entry": made.pk}


def another(kind: Any) -> Any:
    """A live cue or drill of the club that no row takes away."""
    return lambda world: {
        "into": kind.objects.filter(club=world.coach.club).exclude(pk=world.cue.pk)[0].pk
    }


def own_movement(world: World) -> dict[str, object]:
    made, _ = Movement.objects.get_or_create(
        club=world.coach.club, family="squat", name="Club squat"
    )
    return {"pk": made.pk}


def correction(world: World) -> dict[str, object]:
    return {"pk": world.correction.pk}


def person(world: World) -> dict[str, object]:
    return {"pk": world.athlete.pk}


def note(world: World) -> dict[str, object]:
    return {"note_id": world.note.pk}


def max_of(world: World) -> dict[str, object]:
    movement = Movement.objects.filter(club=None).first()
    assert movement is not None
    day = {"day": "2026-01-05", "kind": "best", "kg": "100", "reason": "A meet."}
    return {**day, "athlete": world.athlete.pk, "movement": movement.pk}


def fault_words(world: World) -> dict[str, object]:
    words = {"name": "Bar drifts", "family": "squat", "phase": "descent", "breaks": "no"}
    return {**words, "see": "", "causes": "", "breaks_note": "", "goal_note": ""}


def post(route: str, expected: Any, **more: Any) -> Row:
    return api(route, expected, method="POST", **more)


ROWS = [
    api("api-submissions", ANYBODY),
    post("api-submissions", ATHLETES),
    api("api-submission", {**coached(200, athletes=404), "athlete": 200}, args=of("waiting"),
        about="read"),
    api("api-desk", coaches_page(200)),
    api("api-desk-evening", coaches_page(200), query="?minutes=60"),
    api("api-told-faults", shared(200), args=person, query="?since=2026-01-05"),
    api("api-last-cue", {**coached(200, athletes=404), "athlete": 200, "other_athlete": 200},
        args=own_movement),
    post("api-desk-next", coaches_page(200)),
    post("api-hand-over", coached(404), args=lambda world: {"pk": world.claimed.pk},
         data=lambda world: {"to": 2**31 - 1}),
    api("api-replies", shared(200), args=of("answered")),
    post("api-understood", {**coached(403, athletes=404), "athlete": 200}, args=of("answered"),
         data=lambda world: {"number": 1}),
    api("api-messages", shared(200), args=of("answered")),
    post("api-messages", shared(201), args=of("answered"), data=lambda world: {"text": "Thanks."}),
    post("api-messages-read", shared(200), args=of("answered")),
    post("api-messages-set-aside", coached(200), args=of("answered")),
    api("api-angle", shared(200), args=of("asked")),
    post("api-angle", coached(201), args=of("waiting"),
         data=lambda world: {"view": "front", "why": "I cannot see your knees."}),
    api("api-angle", coached(204), method="DELETE", args=of("asked")),
    api("api-consent", mine(200), args=of("answered")),
    api("api-consent", mine(200), method="PUT", args=of("answered"),
        data=lambda world: {"given": True}),
    api("api-athlete-faults", coached(200), args=person),
    api("api-what-works", coached(200), args=fault),
    api("api-asked-back", coaches_page(200)),
    api("api-why", shared(200), args=prescribed),
    api("api-corrections", ANYBODY),
    post("api-correction-preview", coached(400), args=note),
    post("api-correction-apply", coached(400), args=note),
    post("api-correction-take-back", coached(200), args=correction),
    post("api-correction-end", coached(400), args=correction),
    api("api-faults", coaches_page(200)),
    post("api-faults", coaches_page(201), data=fault_words),
    api("api-fault", coached(200), args=fault),
    api("api-fault", coached(200), method="PATCH", args=fault, data=lambda world: {"see": "Look."}),
    api("api-fault-merge", coached(400), args=fault),
    post("api-fault-merge", coached(200), args=fault, data=another_fault),
    post("api-fault-retire", coached(200), args=fault),
    post("api-fault-bring-back", coached(200), args=fault),
    post("api-cues", coached(201), args=fault, data=lambda world: {"text": "Up."}),
    api("api-cue", coached(200), method="PATCH", args=cue, data=lambda world: {"text": "Up."}),
    api("api-cue-merge", coached(400), args=cue),
    post("api-cue-merge", coached(200), args=cue, data=another(Cue)),
    post("api-cue-retire", coached(200), args=cue),
    post("api-cue-bring-back", coached(200), args=cue),
    post("api-drills", coached(201), args=fault, data=lambda world: {"name": "Box squat"}),
    api("api-drill", coached(200), method="PATCH", args=drill, data=lambda world: {"dose": "3x3"}),
    api("api-drill-merge", coached(400), args=drill),
    post("api-drill-merge", coached(200), args=drill, data=another(Drill)),
    post("api-drill-retire", coached(200), args=drill),
    post("api-drill-bring-back", coached(200), args=drill),
    api("api-movements", ANYBODY),
    post("api-movements", coaches_page(201), data=lambda world: {"family": "squat", "name": "Own"}),
    api("api-movement", coached(200), method="PATCH", args=own_movement,
        data=lambda world: {"name": "Better name"}),
    post("api-movement-retire", coached(200), args=own_movement),
    post("api-movement-bring-back", coached(200), args=own_movement),
    post("api-movement-rebuild", coached(201), args=own_movement,
         data=lambda world: {"athlete": world.athlete.pk, "name": "Squat, rebuilt"}),
    api("api-plates", shared(200), args=person),
    api("api-plates", shared(200), method="PUT", args=person,
        data=lambda world: {"unit": "kg", "bar": "20", "pairs": "25x2"}),
    api("api-calendar", athletes_page(200, coaches=403)),
    post("api-calendar", ATHLETES),
    api("api-calendar", athletes_page(204, coaches=403), method="DELETE"),
    api("api-copied-week", coached(400, athletes=404), args=programme),
    api("api-programmes", ANYBODY),
    post("api-programmes", coaches_page(201),
         data=lambda world: {"name": "Block", "weekdays": [0]}, about="a template"),
    api("api-programme", shared(200), args=programme),
    post("api-programme-changes", coached(400, athletes=404), args=programme),
    api("api-log", ANYBODY),
    post("api-log-import", athletes_page(200, coaches=403),
         data=lambda world: {"text": "date,movement,reps\n2026-01-05,Row,8\n"}),
    api("api-log-export", shared(200), args=person),
    api("api-body-weights", ANYBODY),
    api("api-load", ANYBODY),
    api("api-maxes", ANYBODY),
    post("api-maxes", coached(201), data=max_of),
]  # fmt: skip
