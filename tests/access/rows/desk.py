"""The coaches' desk and their library."""

from athletes.permissions import coaches_of
from reviews.library.merging import partners_of
from reviews.library.models import Cue
from tests.access.expecting import Row, api, coached, coaches_page
from tests.access.world import World


def waiting(world: World) -> dict[str, object]:
    return {"pk": world.waiting.pk}


def claimed(world: World) -> dict[str, object]:
    return {"pk": world.claimed.pk}


def draft(world: World) -> dict[str, object]:
    return {"pk": world.draft.pk}


def fault(world: World) -> dict[str, object]:
    return {"pk": world.fault.pk}


def partner(world: World) -> dict[str, object]:
    return {"into": partners_of(world.fault)[0].pk}


def hanging(world: World) -> dict[str, object]:
    return {**fault(world), "kind": "cues", "entry": world.cue.pk}


def another_cue(world: World) -> dict[str, object]:
    return {"into": Cue.objects.filter(club=world.coach.club).exclude(pk=world.cue.pk)[0].pk}


def cue(world: World) -> dict[str, str]:
    return {"text": "Push the floor away, then stand.", "outside_focus": "on"}


def another(world: World) -> dict[str, object]:
    """A coach of the same club to hand it to, as the form sends it."""
    to = coaches_of(world.coach.club).exclude(pk=world.coach.pk).order_by("pk").first()
    return {"holder": world.coach.pk, "to": to.pk if to else ""}


NOBODY = coached(404)

ROWS = [
    Row("desk", coaches_page(200)),
    Row("desk-tonight", coaches_page(302), "POST", data=lambda world: {"minutes": 90}),
    Row("desk-next", coaches_page(302), "POST"),
    Row("desk-claim", coached(302), "POST", args=waiting),
    Row("desk-claim", NOBODY, "POST", args=draft, about="a draft"),
    Row("workbench-angle", coached(200), args=waiting),
    Row("workbench-angle", coached(302), "POST", args=waiting,
        data=lambda world: {"view": "front", "why": "I cannot see your knees."}),
    Row("workbench-angle", {**coached(422), "coach": 302}, "POST", args=claimed, about="claimed",
        data=lambda world: {"view": "front", "why": "I cannot see your knees."}),
    Row("workbench-angle", NOBODY, args=draft, about="a draft"),
    Row("workbench-angle-back", coached(302), "POST", args=lambda world: {"pk": world.asked.pk}),
    Row("desk-release", coached(302), "POST", args=claimed),
    Row("desk-hand", coached(200), args=claimed),
    Row("desk-hand", {**coached(422), "coach": 302, "owner": 302}, "POST", args=claimed,
        data=another),
    Row("desk-hand", coached(422), "POST", args=waiting, data=another, about="nobody's"),
    Row("desk-hand", NOBODY, args=draft, about="a draft"),
    api("api-claim", coached(200, athletes=404), method="POST", args=waiting),
    api("api-claim", {**coached(409, athletes=404), "coach": 200}, method="POST", args=claimed,
        about="claimed"),
    api("api-claim", coached(404, athletes=404), method="POST", args=draft, about="a draft"),
    api("api-release", coached(200, athletes=404), method="POST", args=claimed),
    Row("library", coaches_page(200)),
    Row("library-add", coaches_page(200)),
    Row("library-add", coaches_page(422), "POST", data=lambda world: {"name": ""}),
    Row("library-fault", coached(200), args=fault),
    Row("library-edit", coached(200), args=fault),
    Row("library-edit", coached(422), "POST", args=fault, data=lambda world: {"name": ""}),
    Row("library-retire", coached(302), "POST", args=fault),
    Row("library-bring-back", coached(302), "POST", args=fault),
    Row("library-merge", coached(200), args=fault),
    Row("library-merge", coached(302), "POST", args=fault, data=partner),
    Row("library-merge", coached(422), "POST", args=fault, about="into nothing"),
    Row("library-hang", coached(302), "POST", args=lambda world: {**fault(world), "kind": "cues"},
        data=cue),
    Row("library-hang-edit", coached(302), "POST", args=hanging, data=cue),
    Row("library-hang-merge", coached(200), args=hanging),
    Row("library-hang-merge", coached(302), "POST", args=hanging, data=another_cue),
    Row("library-hang-merge", coached(422), "POST", args=hanging, about="into nothing"),
    Row("library-hang-retire", coached(302), "POST", args=hanging),
    Row("library-hang-bring-back", coached(302), "POST", args=hanging),
    api("api-library", coaches_page(200), query="?family=squat"),
]  # fmt: skip
