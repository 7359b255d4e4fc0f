"""Movements, the athlete file and maxes."""

from programming.models import Movement
from tests.access.expecting import Row, athletes_page, coached, coaches_page
from tests.access.world import World


def own_movement(world: World) -> dict[str, object]:
    made, _ = Movement.objects.get_or_create(
        club=world.coach.club, name="Beltless low-bar squat", defaults={"family": "squat"}
    )
    return {"pk": made.pk}


def athletes_own(world: World) -> dict[str, object]:
    made, _ = Movement.objects.get_or_create(
        club=world.coach.club, athlete=world.athlete, name="Low-bar squat, rebuilt",
        defaults={"family": "squat"},
    )  # fmt: skip
    return {"pk": made.pk}


def shipped(world: World) -> dict[str, object]:
    return {"pk": Movement.objects.filter(club=None)[0].pk}


def file(world: World) -> dict[str, object]:
    return {"pk": world.athlete.pk}


def history(world: World) -> dict[str, object]:
    return {"pk": world.athlete.pk, "movement_id": athletes_own(world)["pk"]}


def by_hand(world: World) -> dict[str, object]:
    return {"kind": "technical", "load": "140", "day": "2026-01-05", "reason": "A meet."}


def exact(world: World) -> dict[str, object]:
    return {"family": "squat", "name": "Narrow beltless squat", "stance": "narrow"}


ROWS = [
    Row("movements", coaches_page(200)),
    Row("movement-add", coaches_page(200)),
    Row("movement-add", coaches_page(302), "POST", data=exact),
    Row("movement-edit", coached(200), args=own_movement),
    Row("movement-edit", coaches_page(404), args=shipped, about="shipped"),
    Row("movement-edit", coached(302), "POST", args=own_movement, data=exact),
    Row("movement-retire", coached(302), "POST", args=own_movement),
    Row("movement-retire", coaches_page(404), "POST", args=shipped, about="shipped"),
    Row("movement-bring-back", coached(302), "POST", args=own_movement),
    Row("movement-rebuild", coached(200), args=athletes_own),
    Row("movement-rebuild", coached(302), "POST", args=athletes_own,
        data=lambda world: {"athlete": world.athlete.pk, "name": "Rebuilt again"}),
    # Somebody of another club is no choice of the form.
    Row("movement-rebuild", {**coaches_page(422), **coached(302), **dict.fromkeys(
        ["stranger", "foreign_owner"], 422)}, "POST", args=shipped, about="shipped",
        data=lambda world: {"athlete": world.athlete.pk, "name": "Rebuilt from what all have"}),
    Row("athlete-file", coached(200), args=file),
    Row("max-history", coached(200), args=history),
    Row("max-history", coached(302), "POST", args=history, data=by_hand),
    Row("my-maxes", athletes_page(200, coaches=403)),
]  # fmt: skip
