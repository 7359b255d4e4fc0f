"""The log: its athlete writes, the club's coaches read."""

from uuid import uuid4

from django.core.files.uploadedfile import SimpleUploadedFile

from programming.logs.models import ImportDraft
from tests.access.expecting import Row, api, athletes_page, coached, everyone, signed_in
from tests.access.world import World
from tests.programming.logs.rows import NOON, a_session, a_set, movement

# Athletes each have a log of their own; whoever coaches has none to write.
LOGGED = {**signed_in(403), "athlete": 200, "other_athlete": 404, "outsider": 404}
EACH_THEIR_OWN = {**signed_in(403), "athlete": 200, "other_athlete": 200, "outsider": 200}


def session(world: World) -> dict[str, object]:
    return {"session_id": a_session(world.athlete).pk}


def a_logged_set(world: World) -> dict[str, object]:
    row = a_set(a_session(world.athlete))
    return {"session_id": row.session_id, "set_id": row.pk}


def session_data(world: World) -> dict[str, object]:
    return {"revision": 2, "started_at": NOON.isoformat(), "minutes": 70}


def set_data(world: World) -> dict[str, object]:
    facts = {"revision": 2, "movement": movement().pk, "load": "140", "reps": 3}
    return {**facts, "done_at": NOON.isoformat()}


def old_log(world: World) -> dict[str, object]:
    return {"file": SimpleUploadedFile("log.csv", b"date,movement,reps\n2026-11-02,Row,8\n")}


def drafted(world: World) -> dict[str, object]:
    text = "date,movement,reps\n2026-11-02,Row,8\n"
    ImportDraft.objects.get_or_create(athlete=world.athlete, defaults={"name": "x", "text": text})
    return {}


ROWS = [
    Row("training", athletes_page(200, coaches=302)),
    Row("training-worker", everyone(200)),
    Row("training-log", athletes_page(200, coaches=302)),
    Row("athlete-log", coached(200), args=lambda world: {"pk": world.athlete.pk}),
    Row("athlete-log", coached(404), args=lambda world: {"pk": world.coach.pk}, about="a coach"),
    api("api-today", EACH_THEIR_OWN),
    Row("log-import", athletes_page(200, coaches=403)),
    Row("log-import", athletes_page(302, coaches=403), "POST", data=old_log, about="a file"),
    Row("log-import", athletes_page(422, coaches=403), "POST", about="no file"),
    Row("log-import-check", {**athletes_page(302, coaches=403), "athlete": 200}, args=drafted),
    Row("log-import-check", athletes_page(302, coaches=403), "POST", args=drafted,
        data=lambda world: {"deed": "bring"}),
    Row("reply-cue", signed_in(200), args=lambda world: {}, query="?movement=1"),
    Row("log-export", athletes_page(200, coaches=403)),
    Row("athlete-log-export", coached(200), args=lambda world: {"pk": world.athlete.pk}),
    api("api-log-session", EACH_THEIR_OWN, method="PUT", data=session_data,
        args=lambda world: {"session_id": uuid4()}, about="new"),
    api("api-log-session", LOGGED, method="PUT", args=session, data=session_data),
    api("api-log-session", LOGGED, method="DELETE", args=session, data=session_data),
    api("api-log-set", LOGGED, method="PUT", args=a_logged_set, data=set_data),
    api("api-log-set", LOGGED, method="DELETE", args=a_logged_set, data=set_data),
    api("api-body-weight", EACH_THEIR_OWN, method="PUT",
        args=lambda world: {"day": NOON.date()},
        data=lambda world: {"weight": "92.4", "unit": "kg"}),
]  # fmt: skip
