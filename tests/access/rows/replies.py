"""Answering and reading."""

from uuid import uuid4

from programming.plans.models import Prescription
from tests.access.expecting import (
    Build,
    Row,
    api,
    athletes_page,
    coached,
    coaches_page,
    mine,
    shared,
)
from tests.access.rows.programmes import programme
from tests.access.world import World


def answered(world: World) -> dict[str, object]:
    return {"pk": world.answered.pk}


def track(kind: str) -> Build:
    return lambda world: {
        "pk": world.answered.pk,
        "number": 1,
        "clip_id": world.answered.clips.get().pk,
        "kind": kind,
    }


def draft(world: World) -> dict[str, object]:
    return {"pk": world.draft.pk}


def claimed(world: World) -> dict[str, object]:
    return {"submission_id": world.claimed.pk}


def changing(world: World) -> dict[str, object]:
    return {"pk": world.claimed.pk, "note_id": world.note.pk}


def prescribed(world: World) -> dict[str, object]:
    lines = Prescription.objects.filter(session__programme=programme(world)["pk"])
    return {"pk": lines.get().pk}


def correction(world: World) -> dict[str, object]:
    return {"pk": world.correction.pk}


def note(world: World) -> dict[str, object]:
    return {"clip": str(world.claimed_clip.pk), "first_frame": 1, "last_frame": 2, "text": "x"}


# Only the coach who holds the claim writes; another coach of the club is told who holds it.
HOLDER = {**coached(409, athletes=404), "coach": 200}

ROWS = [
    Row("athlete-home", athletes_page(200, coaches=302)),
    Row("replies", athletes_page(200, coaches=302)),
    Row("submission", shared(200), args=answered),
    Row("submission", mine(302), args=draft, about="a draft"),
    Row("submission-clips", shared(200), args=answered),
    Row("submission-clip", shared(200),
        args=lambda world: {"pk": world.waiting.pk, "clip_id": world.waiting_clip.pk}),
    Row("submission-clip", mine(200), about="not sent",
        args=lambda world: {"pk": world.draft.pk, "clip_id": world.filmed_clip.pk}),
    Row("submission-clip", shared(404), about="one that does not play",
        args=lambda world: {"pk": world.waiting.pk, "clip_id": world.failed_clip.pk}),
    Row("submission-understood", mine(302), "POST", args=answered,
        data=lambda world: {"version": "1"}),
    Row("submission-ask", shared(302), "POST", args=answered, data=lambda world: {"text": "And?"}),
    Row("submission-set-aside", coached(302), "POST", args=answered),
    Row("what-works", coached(200), args=lambda world: {"pk": world.fault.pk}),
    Row("asked-back", coaches_page(200)),
    Row("reply-track", {**shared(200), "anonymous": 401}, args=track("captions")),
    Row("reply-track", {**shared(404), "anonymous": 401}, args=track("original"),
        about="no such kind"),
    Row("workbench", coached(200), args=lambda world: {"pk": world.waiting.pk}),
    Row("workbench", coached(404), args=draft, about="a draft"),
    Row("correction", coached(200), args=changing),
    Row("correction", coached(422), "POST", args=changing, data=lambda world: {"kind": "cap"}),
    Row("coming-sessions", coached(200), args=lambda world: {"pk": world.claimed.pk}),
    Row("athlete-faults", coached(200), args=lambda world: {"pk": world.athlete.pk}),
    Row("load-faults", shared(200), args=lambda world: {"pk": world.athlete.pk},
        query="?from=2026-01-05"),
    Row("why", shared(200), args=prescribed),
    Row("correction-back", coached(302), "POST", args=correction),
    api("api-review", coached(200, athletes=404), args=claimed),
    api("api-note", HOLDER, method="PUT", args=lambda world: {"note_id": uuid4()}, data=note),
    api("api-note", HOLDER, method="PUT", args=lambda world: {"note_id": world.note.pk},
        data=note, about="existing"),
    api("api-note", HOLDER, method="DELETE", args=lambda world: {"note_id": world.note.pk}),
    api("api-rep-call", HOLDER, method="PUT", data=lambda world: {"call": "standard"},
        args=lambda world: {"clip_id": world.claimed_clip.pk, "rep": 1}),
    api("api-reply", HOLDER, method="PATCH", args=claimed, data=lambda world: {"opening": "x"}),
    api("api-check-back", coached(200, athletes=404), args=claimed),
    api("api-outcome", HOLDER, method="PUT", data=lambda world: {"result": "gone"},
        args=lambda world: {"submission_id": world.back.pk, "note_id": world.point}),
    api("api-publish", HOLDER, method="POST", args=claimed),
]  # fmt: skip
