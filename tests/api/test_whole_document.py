"""schemathesis over the whole OpenAPI document: whatever the document allows, and much that it does
not, is answered as the document says, and never with a server error.

As an owner, a coach and an athlete, each by a token of every scope, with a row behind most ids. The
cases are the same in every run.
"""

from collections import Counter
from collections.abc import Iterator
from typing import Any

import pytest
import schemathesis
from django.core.signals import request_finished, request_started
from django.db import close_old_connections, connection, transaction
from hypothesis import HealthCheck, Phase, given, seed, settings
from hypothesis import strategies as st
from schemathesis import GenerationMode
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi import checks

from athletes.tokens.services import SCOPES, issue_token
from athletes.tokens.throttles import TokenThrottle
from coachdesk.api.views import document
from coachdesk.wsgi import application
from programming.models import Movement
from tests.access.world import World, build_world
from tests.conftest import Cast
from tests.programming.logs.rows import a_session, a_set
from tests.programming.plans.build import a_programme

# Cases for an operation, a person and a kind of input. PostgreSQL, where all runs once more, gets
# fewer, and others.
EACH, LEAST, SEED = (3, 2000, 1) if connection.vendor == "sqlite" else (2, 1000, 2)
CHECKS = [
    not_a_server_error,
    checks.status_code_conformance,
    checks.content_type_conformance,
    checks.response_headers_conformance,
    checks.response_schema_conformance,
]


def ids_of(world: World) -> dict[str, dict[str, Any]]:
    """What is behind the ids of an address, by the word before them. The document says `id` where
    the route says `pk`."""
    trained = a_set(a_session(world.athlete))
    movement = Movement.objects.create(club=world.coach.club, family="squat", name="Club squat")
    return {
        "submissions": {"submission_id": world.claimed.pk, "id": world.claimed.pk},
        "notes": {"note_id": world.note.pk},
        "clips": {"clip_id": world.claimed_clip.pk},
        "corrections": {"id": world.correction.pk},
        "people": {"id": world.athlete.pk},
        "invitations": {"id": world.invitation.pk},
        "faults": {"id": world.fault.pk, "entry": world.cue.pk},
        "movements": {"id": movement.pk},
        "programmes": {"id": a_programme(world.coach, world.athlete).pk},
        "log": {"session_id": trained.session_id, "set_id": trained.pk},
    }


@pytest.fixture
def kept_connection() -> Iterator[None]:
    """Requests end without closing the connection that holds the test's transaction, as in
    Django's own test client."""
    for signal in (request_started, request_finished):
        signal.disconnect(close_old_connections)
    yield
    for signal in (request_started, request_finished):
        signal.connect(close_old_connections)


@pytest.mark.usefixtures("kept_connection")
@pytest.mark.django_db
def test_whatever_is_sent_the_document_holds(cast: Cast, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(TokenThrottle, "rate", "100000/min", raising=False)
    world = build_world(cast.athlete, cast.coach)
    ids = ids_of(world)
    schema = schemathesis.openapi.from_dict(document())
    schema.app = application
    secrets = [
        issue_token(user=user, name="all", scopes=SCOPES, days=1)[1]
        for user in (cast.owner, cast.coach, cast.athlete)
    ]
    met: Counter[int] = Counter()
    failures: list[str] = []
    for found in schema.get_all_operations():
        operation: Any = found.ok()  # type: ignore[union-attr]
        for secret in secrets:
            for mode in (GenerationMode.POSITIVE, GenerationMode.NEGATIVE):
                try:
                    _walk(operation, mode, secret, ids, met)
                except Exception as failure:  # noqa: BLE001  every operation is to be heard
                    failures.append(
                        f"{operation.label} {mode.value}: {failure!r}\n{_told(failure)}"
                    )
    assert not failures, "\n\n".join(failures)
    assert met.total() >= LEAST
    assert met[200] + met[201] + met[204] > 300, "few got as far as the use cases"


def _told(failure: BaseException) -> str:
    inner = getattr(failure, "exceptions", ())
    return "\n".join([str(failure), *map(_told, inner)])[:3000]


def _walk(
    operation: Any, mode: GenerationMode, secret: str, ids: dict[str, Any], met: Counter[int]
) -> None:
    behind: dict[str, Any] = next(
        (ids[part] for part in operation.path.split("/") if part in ids), {}
    )

    @seed(SEED)
    @settings(
        max_examples=EACH,
        derandomize=True,
        database=None,
        deadline=None,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    @given(case=operation.as_strategy(generation_mode=mode), real=st.integers(0, 3))
    def one(case: Any, real: int) -> None:
        if real:  # three of four
            named = {key: str(behind[key]) for key in case.path_parameters if key in behind}
            case.path_parameters.update(named)
        with transaction.atomic():  # each finds the world as it was built
            response = case.call(headers={"Authorization": f"Bearer {secret}"})
            transaction.set_rollback(True)
        met[response.status_code] += 1
        case.validate_response(response, checks=CHECKS)

    one()
