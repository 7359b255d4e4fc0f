"""Slow clients against what bin/run starts, and against nginx before it as in docker-compose.yml:
pages, health and an upload get through all the same.

No time is measured here: a server that they stop does not answer while they hold it.
"""

import json
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import httpx
import pytest

from coachdesk.benchmarks.held_connections import STAGE, Scene, held
from tests.coachdesk.test_runner import free_port, running, wait_ready
from tests.faults.ground import CHECKOUT, until
from tests.faults.topology import Topology

pytestmark = pytest.mark.kills
EACH = 128
LENGTH = 4 * 1024**2
PATIENCE = 60.0  # seconds; the clients would hold on for ten minutes


@pytest.fixture
def behind_nginx(tmp_path: Path) -> Iterator[Scene]:
    """The web part of docker-compose.yml and its front; the database is SQLite here."""
    topology = Topology(tmp_path, database=f"sqlite:///{tmp_path}/site.sqlite3", storage="")
    try:
        topology.lasting_broker()
        topology.manage("migrate", "--verbosity", "0")
        topology.manage("collectstatic", "--no-input", "--verbosity", "0")
        stage = topology.manage("shell", "-v0", "-c", STAGE)
        topology.web()
        topology.front()
        yield Scene(port=topology.front_port, **json.loads(stage.splitlines()[-1]))
    finally:
        topology.end()


@pytest.fixture
def by_bin_run(tmp_path: Path) -> Iterator[Scene]:
    port = free_port()
    with running(tmp_path, port):
        wait_ready(port, 120)
        environment = {**os.environ, "COACHDESK_DATA": str(tmp_path)}
        done = subprocess.run(
            [sys.executable, "manage.py", "shell", "-v0", "-c", STAGE],
            cwd=CHECKOUT, env=environment, capture_output=True, text=True, timeout=120,
        )  # fmt: skip
        assert done.returncode == 0, done.stderr
        yield Scene(port=port, **json.loads(done.stdout.splitlines()[-1]))


@pytest.mark.parametrize("how", ["by_bin_run", "behind_nginx"])
def test_nobody_stops_the_site_by_being_slow(
    how: str, request: pytest.FixtureRequest, tmp_path: Path
) -> None:
    scene: Scene = request.getfixturevalue(how)
    url = f"http://127.0.0.1:{scene.port}"
    with held(scene, EACH, tmp_path), httpx.Client(base_url=url, timeout=PATIENCE) as site:
        coach = scene.headers("coach")
        for _ in range(5):
            assert site.get("/health/live").status_code == 200
            assert site.get("/accounts/login/").status_code == 200
            assert site.get("/desk/", headers=coach).status_code == 200
        part = site.get(scene.clip, headers={**coach, "Range": "bytes=0-9"})
        assert (part.status_code, part.content) == (206, bytes(10))
        until(lambda: sends_a_clip(site, scene), PATIENCE, "a clip of somebody else arrives")


def sends_a_clip(site: httpx.Client, scene: Scene) -> bool:
    """Whether it is in; false where the server asks to come again, as every tus client does."""
    body = os.urandom(LENGTH)
    answer = site.patch(scene.upload, headers=scene.upload_headers("other", LENGTH), content=body)
    assert answer.status_code in {204, 503}, answer.text
    return answer.headers.get("Upload-Offset") == str(LENGTH)
