"""A fixed day: Wednesday 25 November 2026, noon in Oslo."""

from datetime import UTC, datetime

import pytest
import time_machine

from programming.plans.models import Programme
from tests.conftest import Cast
from tests.programming.plans.build import a_programme


@pytest.fixture(autouse=True)
def _today():
    with time_machine.travel(datetime(2026, 11, 25, 11, tzinfo=UTC), tick=False):
        yield


@pytest.fixture
def programme(cast: Cast) -> Programme:
    return a_programme(cast.coach, cast.athlete)
