"""What a use case refuses is answered in one way, with its own sentence."""

import pytest

from coachdesk.common.api.problems import problem_response
from coachdesk.common.errors import Conflict, DomainError, Invalid, NotFound, PermissionDenied


class InvalidLoad(Invalid):
    status = 400
    field = "load"


@pytest.mark.parametrize(
    ("error", "status", "errors"),
    [
        (NotFound("It is gone."), 404, None),
        (PermissionDenied("It is gone."), 403, None),
        (Conflict("It is gone."), 409, None),
        (Invalid("It is gone."), 422, None),
        (Invalid("It is gone.", errors={"day": ["It is gone."]}), 422, {"day": ["It is gone."]}),
        (InvalidLoad("It is gone."), 400, {"load": ["It is gone."]}),
    ],
)
def test_each_has_its_status_and_sentence(error: DomainError, status: int, errors) -> None:
    answer = problem_response(error, {})
    assert answer is not None
    assert answer.status_code == answer.data["status"] == status
    assert answer.data["detail"] == str(error) == "It is gone."
    assert answer.data.get("errors") == errors
    assert answer.content_type == "application/problem+json"


def test_without_a_sentence_there_is_still_one() -> None:
    answer = problem_response(NotFound(), {})
    assert answer is not None
    assert answer.data["detail"] == "Not found."
    assert all(str(error) for error in (PermissionDenied(), Conflict(), Invalid()))
