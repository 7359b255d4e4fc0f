"""Training load: an athlete's own, and the club's coaches'."""

from tests.access.expecting import Row, coached, signed_in
from tests.access.world import World

# Athletes each have a load of their own; whoever coaches opens an athlete's.
EACH_THEIR_OWN = {**signed_in(403), "athlete": 200, "other_athlete": 200, "outsider": 200}


def person(world: World) -> dict[str, object]:
    return {"pk": world.athlete.pk}


ROWS = [
    Row("athlete-load", coached(200), args=person),
    Row("my-load", EACH_THEIR_OWN),
]
