"""Short words for the desk's tests."""

from collections.abc import Callable
from typing import Any

import pytest

from athletes.models import User
from reviews.intake.models import Submission
from tests.reviews.desk.build import sent

Waiting = Callable[..., Submission]


@pytest.fixture
def waiting(cast) -> Waiting:
    """``waiting(days=2, clips=2, pain=4)``: sent by the athlete unless another is named."""

    def make(athlete: User | None = None, **facts: Any) -> Submission:
        return sent(athlete or cast.athlete, **facts)

    return make
