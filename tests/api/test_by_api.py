"""What a page does, a program does: the whole way of a question, and of a correction, by tokens."""

from base64 import b64encode
from datetime import timedelta
from decimal import Decimal
from typing import Any
from uuid import uuid4

import pytest
from django.test import Client
from drf_spectacular.generators import SchemaGenerator
from jsonschema import Draft202012Validator

from athletes.local_time import today_of
from athletes.models import User
from athletes.tokens.services import SCOPES, issue_token
from athletes.webhooks.models import Delivery, Event, Webhook
from programming.models import Prescription
from programming.plans.models.correction import Kind
from reviews.intake.models import Clip
from reviews.library.models import Fault
from tests.conftest import Cast
from tests.programming.logs.rows import a_session, a_set
from tests.programming.plans.build import a_programme, a_row
from tests.reviews.replies.rows import a_clip, a_note, a_submission


class Program:
    """A client with a token of every scope."""

    def __init__(self, user: User) -> None:
        _, secret = issue_token(user=user, name="all", scopes=SCOPES, days=1)
        self.client = Client()
        self.headers = {"Authorization": f"Bearer {secret}"}

    def __call__(self, method: str, path: str, body: Any = None, status: int = 200) -> Any:
        answer = getattr(self.client, method)(
            f"/api/v1/{path}", body, "application/json", headers=self.headers
        ) if body is not None else getattr(self.client, method)(
            f"/api/v1/{path}", headers=self.headers
        )  # fmt: skip
        assert answer.status_code == status, answer.content
        return answer.json() if answer.content else None


def as_described(name: str, told: Any) -> None:
    """Holds what was stored as JSON to its shape in the document."""
    document = SchemaGenerator().get_schema(request=None, public=True)
    shape = {"$ref": f"#/components/schemas/{name}", "components": document["components"]}
    Draft202012Validator(shape).validate(told)


@pytest.fixture
def hook(cast: Cast) -> Webhook:
    return Webhook.objects.create(
        club=cast.owner.club, url="https://example.org/", events=Event.values, secret="s"
    )


def told() -> list[str]:
    return list(Delivery.objects.order_by("made_at").values_list("event", flat=True))


def test_the_way_of_a_question(cast: Cast, hook: Webhook) -> None:
    athlete, coach = Program(cast.athlete), Program(cast.coach)
    draft = athlete("post", "submissions/", {}, 201)["id"]
    pain = {"where": "lower back", "score": 3, "since": "Monday", "signs": []}
    athlete("patch", f"submissions/{draft}/", {"question": "Do my hips rise?", "pain": pain})
    clip = athlete("post", f"submissions/{draft}/clips/", {}, 201)["id"]
    athlete("patch", f"clips/{clip}/", {"reps": 3, "rpe": "8"}, 204)
    upload = athlete.client.post(
        "/uploads/",
        headers={
            **athlete.headers,
            "Tus-Resumable": "1.0.0",
            "Upload-Length": "10",
            "Upload-Metadata": f"clip {_b64(clip)},filename {_b64('squat.mp4')}",
        },
    )
    assert upload.status_code == 201, upload.content
    athlete("post", f"submissions/{draft}/send/", {})
    assert told() == [Event.SUBMISSION_SENT]
    submission = athlete("get", "submissions/?state=waiting")["results"][0]
    assert submission["id"] == draft
    assert submission["pain"]["where"] == "lower back"

    queue = coach("get", "desk/")["results"]
    assert [(one["id"], one["section"]) for one in queue] == [(draft, "first")]
    assert coach("post", "desk/next/", {})["submission"] == draft
    playable = a_clip(Clip.objects.get(pk=clip).submission)
    note = {"clip": str(playable.pk), "first_frame": 3, "last_frame": 3, "text": "Hips.", "rank": 1}
    coach("put", f"notes/{uuid4()}/", note)
    coach("patch", f"submissions/{draft}/reply/", {"opening": "Three strong reps."})
    Clip.objects.filter(pk=clip).delete()  # its film never came; the other one can be answered
    coach("post", f"submissions/{draft}/publish/", {})
    assert told() == [Event.SUBMISSION_SENT, Event.REPLY_PUBLISHED]

    version = athlete("get", f"submissions/{draft}/replies/")["results"][0]
    as_described("Version", version)
    (tracks,) = version["tracks"].values()
    captions = athlete.client.get(tracks["captions"], headers=athlete.headers)
    assert captions.content.startswith(b"WEBVTT")
    (seen,) = athlete("get", f"submissions/{draft}/")["clips"]
    frames = athlete.client.get(seen["files"]["frames"], headers=athlete.headers)
    assert frames.status_code == 200
    assert version["content"]["opening"] == "Three strong reps."
    assert athlete("post", f"submissions/{draft}/understood/", {"number": 1}) == {"marked": True}
    athlete("post", f"submissions/{draft}/messages/", {"text": "Thanks."}, 201)
    assert coach("get", f"submissions/{draft}/messages/")["results"][0]["text"] == "Thanks."
    assert "Hips" not in str(list(Delivery.objects.values_list("payload", flat=True)))


def _b64(text: str) -> str:
    return b64encode(text.encode()).decode()


def test_the_way_of_a_correction(cast: Cast, hook: Webhook) -> None:
    coach = Program(cast.coach)
    soon = today_of(cast.athlete) + timedelta(days=7)
    programme = a_programme(cast.coach, cast.athlete, weeks=1, weekdays=[0], starts_on=soon)
    a_row(programme)
    whole = coach("get", f"programmes/{programme.pk}/")
    movement = whole["sessions"][0]["prescriptions"][0]["movement"]
    note = a_note(cast.coach, a_clip(a_submission(cast.athlete)))
    wish = {"kind": Kind.HOLD, "movement": movement, "weeks": 4}
    shown = coach("post", f"notes/{note.pk}/correction-preview/", wish)
    assert [line["after"]["held"] for line in shown["lines"]] == [True]
    as_described("Preview", shown)
    assert not coach("get", "corrections/")["results"], "a preview changes nothing"
    stale = {**wish, "seal": "0" * 64}
    assert "changed since" in coach("post", f"notes/{note.pk}/corrections/", stale, 422)["detail"]
    made = coach("post", f"notes/{note.pk}/corrections/", {**wish, "seal": shown["seal"]}, 201)
    assert told() == [Event.CORRECTION_APPLIED]
    coach("post", f"corrections/{made['id']}/take-back/", {})
    assert coach("get", "corrections/")["results"][0]["taken_back_at"]


def test_a_programme_is_arranged_and_guarded(cast: Cast) -> None:
    coach = Program(cast.coach)
    start = {"athlete": cast.athlete.pk, "name": "Block", "weekdays": [0, 3], "weeks": 2}
    made = coach("post", "programmes/", {**start, "starts_on": "2099-01-05"}, 201)
    assert made["revision"] == 1
    add = {"do": "add-session", "seen": 1, "weekday": "5", "from_week": 1}
    changed = coach("post", f"programmes/{made['id']}/changes/", add)
    assert changed["programme"]["revision"] == 2
    coach("post", f"programmes/{made['id']}/changes/", add, 409)
    sessions = coach("get", f"programmes/{made['id']}/")["sessions"]
    assert len(sessions) == 6


def test_lists_go_on_where_they_stopped(cast: Cast, monkeypatch) -> None:
    monkeypatch.setattr("coachdesk.common.api.pagination.RowPagination.page_size", 2)
    for _ in range(5):
        a_submission(cast.athlete)
    athlete = Program(cast.athlete)
    seen, where = [], "submissions/"
    while where:
        page = athlete("get", where.split("/api/v1/")[-1])
        seen += [one["id"] for one in page["results"]]
        where = page["next"]
    assert len(seen) == len(set(seen)) == 5


def test_another_angle_is_asked_for_and_taken_back(cast: Cast) -> None:
    athlete, coach, other = (Program(it) for it in (cast.athlete, cast.coach, cast.second_coach))
    question = a_submission(cast.athlete)
    a_clip(question)
    address = f"submissions/{question.pk}/angle/"
    other("post", f"submissions/{question.pk}/claim/")
    told = {"view": "front", "why": "I cannot see your knees."}
    coach("post", address, told, 409)
    other("post", address, told, 201)
    assert athlete("get", address)["angle"]["why"] == told["why"]
    added = athlete("post", f"submissions/{question.pk}/clips/", status=201)
    assert added["id"] in {str(clip.pk) for clip in question.clips.all()}
    assert coach("get", "desk/")["results"] == []
    coach("delete", address, status=204)
    assert athlete("get", address) == {"angle": None}
    assert [one["id"] for one in coach("get", "desk/")["results"]] == [str(question.pk)]


def test_a_message_is_read_by_saying_so_and_set_aside(cast: Cast) -> None:
    athlete, coach = Program(cast.athlete), Program(cast.coach)
    question = a_submission(cast.athlete)
    address = f"submissions/{question.pk}/messages/"
    athlete("post", address, {"text": "Thanks."}, 201)
    assert coach("get", address)["results"][0]["read_at"] is None
    assert coach("post", f"{address}read/") == {"marked": 1}
    assert coach("get", address)["results"][0]["read_at"] is not None
    assert coach("post", f"{address}set-aside/") == {"marked": 1}
    assert coach("post", f"{address}set-aside/") == {"marked": 0}


def test_round_ups_show_what_the_athlete_allows(cast: Cast) -> None:
    athlete = Program(cast.athlete)
    address = f"submissions/{a_submission(cast.athlete).pk}/consent/"
    assert athlete("get", address) == {"given": False}
    assert athlete("put", address, {"given": True}) == {"given": True}
    assert athlete("put", address, {"given": False}) == {"given": False}


def test_two_faults_become_one_after_a_look(cast: Cast) -> None:
    coach = Program(cast.coach)
    faults = Fault.objects.filter(club=cast.coach.club, family="squat")
    going, staying = faults.get(name="Hips rise first"), faults.get(name="Knees come in")
    address = f"faults/{going.pk}/merge/"
    seen = coach("get", f"{address}?into={staying.pk}")
    assert seen["moving"] == [str(row) for row in (*going.cues.all(), *going.drills.all())
                              if str(row) not in seen["doubled"]]  # fmt: skip
    assert coach("get", f"faults/{going.pk}/")["merged_into"] is None, "nothing was done"
    assert coach("post", address, {"into": staying.pk})["id"] == staying.pk
    assert coach("get", f"faults/{going.pk}/")["merged_into"] == staying.pk
    coach("post", address, {"into": staying.pk}, 422)


def test_two_cues_become_one_after_a_look(cast: Cast) -> None:
    coach = Program(cast.coach)
    fault = Fault.objects.get(club=cast.coach.club, family="squat", name="Hips rise first")
    other = Fault.objects.get(club=cast.coach.club, family="squat", name="Loose brace")
    cues = f"faults/{fault.pk}/cues/"
    going = coach("post", cues, {"text": "Shove the floor."}, 201)["id"]
    staying = coach("post", f"faults/{other.pk}/cues/", {"text": "Floor away."}, 201)["id"]
    address = f"{cues}{going}/merge/"
    seen = coach("get", f"{address}?into={staying}")
    assert seen == {"gained": [fault.name], "already": []}
    assert coach("post", address, {"into": staying})["text"] == "Floor away."
    told = {cue["id"]: cue["merged_into"] for cue in coach("get", f"faults/{fault.pk}/")["cues"]}
    assert told[going] == staying
    assert told[staying] is None
    coach("post", address, {"into": staying}, 422)


def test_a_part_of_the_queue_and_who_asked_back(cast: Cast) -> None:
    athlete, coach = Program(cast.athlete), Program(cast.coach)
    question = a_submission(cast.athlete)
    athlete("post", f"submissions/{question.pk}/messages/", {"text": "Belt or no belt?"}, 201)
    assert coach("get", "desk/?what=pain")["results"] == []
    assert len(coach("get", "desk/?whose=mine")["results"]) == 1
    coach("get", "desk/?what=everything", status=400)
    evening = coach("get", "desk/evening/?minutes=60")
    assert (evening["minutes"], evening["free"]) == (60, 1)
    assert evening["fits"] == [str(question.pk)]
    assert coach("get", "desk/evening/?what=pain")["fits"] == []
    coach("post", "desk/next/?what=pain", status=204)
    assert coach("post", "desk/next/?whose=mine")["submission"] == str(question.pk)
    thread = coach("get", "desk/asked-back/")["asked_back"][0]
    assert (thread["submission"], thread["messages"][0]["text"]) == (
        str(question.pk),
        "Belt or no belt?",
    )


def test_why_and_what_works_and_an_athletes_faults(cast: Cast) -> None:
    athlete, coach = Program(cast.athlete), Program(cast.coach)
    question = a_submission(cast.athlete)
    clip = a_clip(question)
    fault = Fault.objects.get(club=cast.coach.club, family="squat", name="Hips rise first")
    note = a_note(cast.coach, clip, rank=1, fault=fault)
    coach("post", f"submissions/{question.pk}/publish/")
    told = coach("get", f"people/{cast.athlete.pk}/faults/")["faults"]
    assert [(one["name"], one["times"], one["result"]) for one in told] == [(fault.name, 1, "")]
    (day,) = athlete("get", f"people/{cast.athlete.pk}/faults/told/?since=2026-01-01")["faults"]
    assert (day["name"], day["submission"]) == (fault.name, str(question.pk))
    found = coach("get", "faults/?family=squat&q=hips rise")["results"]
    assert fault.pk in [one["id"] for one in found]
    assert len(found) < len(coach("get", "faults/?family=squat")["results"])
    assert coach("get", "faults/?family=bench&q=hips rise first")["results"] == []
    assert athlete("get", f"movements/{clip.movement_id}/cue/") == {"cue": None}
    works = coach("get", f"faults/{fault.pk}/what-works/")
    counts = dict.fromkeys(["told", "gone", "better", "unsure"], 0)
    assert works["fault"] == {"name": fault.name, **counts, "low": None, "high": None}
    programme = a_programme(cast.coach, cast.athlete)
    row = a_row(programme)
    line = Prescription.objects.filter(row=row).first()
    assert athlete("get", f"prescriptions/{line.pk}/why/") == {"reasons": []}
    assert note.rank == 1


def test_an_owner_keeps_webhooks(cast: Cast, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("athletes.webhooks.services.resolve", lambda *args: None)
    owner = Program(cast.owner)
    wish = {"url": "https://hooks.example.org/", "events": ["reply.published"]}
    made = owner("post", "webhooks/", wish, 201)
    assert len(made["secret"]) == 64
    listed = owner("get", "webhooks/")["results"]
    assert [one["id"] for one in listed] == [made["id"]]
    assert "secret" not in listed[0]
    assert owner("get", f"webhooks/{made['id']}/deliveries/")["results"] == []
    owner("delete", f"webhooks/{made['id']}/", status=204)
    assert owner("get", "webhooks/")["results"] == []
    owner("post", "webhooks/", {**wish, "events": []}, 400)
    Program(cast.coach)("get", "webhooks/", status=403)


@pytest.mark.parametrize(
    "name", ["SetInRequest", "ImportInRequest", "PatchedClipFieldsRequest", "MaxInRequest"]
)
def test_every_body_with_a_load_names_what_confirms_it(name: str) -> None:
    document = SchemaGenerator().get_schema(request=None, public=True)
    body = document["components"]["schemas"][name]
    confirmed = body["properties"]["load_confirmed"]
    assert (confirmed["type"], confirmed["default"]) == ("boolean", False)
    assert "load_confirmed" not in body.get("required", [])


def test_a_program_is_asked_about_an_unusual_load(cast: Cast) -> None:
    athlete, coach = Program(cast.athlete), Program(cast.coach)
    squat = a_set(a_session(cast.athlete), load=Decimal(210), reps=1).movement_id
    draft = athlete("post", "submissions/", {}, 201)["id"]
    clip = athlete("post", f"submissions/{draft}/clips/", {}, 201)["id"]
    load = {"movement": squat, "load": {"value": "250", "unit": "kg"}}
    best = {"athlete": cast.athlete.pk, "movement": squat, "kind": "best", "kg": "250",
            "day": "2026-11-24", "reason": "A meet"}  # fmt: skip
    refused = [
        athlete("patch", f"clips/{clip}/", load, 422),
        coach("post", "maxes/", best, 422),
    ]
    question = "250\u2009kg is 19% above the 210\u2009kg known for this lift. Is that load right?"
    assert [problem["errors"] for problem in refused] == [{"load_confirmed": [question]}] * 2
    athlete("patch", f"clips/{clip}/", {**load, "load_confirmed": True}, 204)
    coach("post", "maxes/", {**best, "load_confirmed": True}, 201)
