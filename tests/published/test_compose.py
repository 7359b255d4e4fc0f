"""docker-compose.yml against the Compose Specification's own schema (compose-spec.json, as
check-jsonschema carries it), and our promises about it. No Docker engine is needed."""

import os
import re
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import pytest
import yaml

from coachdesk.celery import app
from coachdesk.server import server_limits
from tests.test_docs import ROOT

FILE = ROOT / "docker-compose.yml"
SERVICES: dict[str, Any] = yaml.safe_load(FILE.read_text())["services"]


def test_it_is_what_the_specification_says() -> None:
    words = ["--builtin-schema", "vendor.compose-spec", str(FILE)]
    done = subprocess.run(
        [sys.executable, "-m", "check_jsonschema", *words], capture_output=True, text=True
    )
    assert done.returncode == 0, done.stdout + done.stderr


def test_every_part_is_there() -> None:
    parts = {"front", "web", "quick", "media", "beat", "database", "broker", "storage", "migrate"}
    assert set(SERVICES) == parts | {"metrics"}
    assert SERVICES["metrics"]["profiles"] == ["metrics"], "opt-in"


@pytest.mark.parametrize("name", SERVICES)
def test_each_can_do_little(name: str) -> None:
    service = SERVICES[name]
    assert service["read_only"] is True
    assert service["cap_drop"] == ["ALL"]
    assert "cap_add" not in service
    assert "privileged" not in service
    assert "no-new-privileges:true" in service["security_opt"]
    assert re.fullmatch(r"[1-9]\d*:[1-9]\d*", service["user"]), "not root"


@pytest.mark.parametrize("name", sorted(set(SERVICES) - {"migrate"}))
def test_each_says_how_it_is(name: str) -> None:
    assert SERVICES[name]["healthcheck"]["test"][0] == "CMD"


def test_a_worker_that_no_longer_gets_on_is_unwell(tmp_path: Path) -> None:
    """The very words of the file, with a liveness file of ours."""
    (where,) = {SERVICES[name]["healthcheck"]["test"][3] for name in ("quick", "media", "beat")}
    file = SERVICES["media"]["environment"]["COACHDESK_LIVENESS_FILE"]
    assert file in where
    liveness = tmp_path / "liveness"

    def is_well() -> bool:
        words = [sys.executable, "-c", where.replace(file, str(liveness))]
        return subprocess.run(words, stderr=subprocess.DEVNULL).returncode == 0

    assert not is_well(), "it has yet to begin"
    liveness.touch()
    assert is_well()
    os.utime(liveness, (time.time() - 70,) * 2)
    assert not is_well()


@pytest.mark.parametrize("name", SERVICES)
def test_each_image_is_held_to_a_major_version(name: str) -> None:
    assert re.fullmatch(r"[a-z-]+:\d+", SERVICES[name]["image"])


def test_images_we_build_on_are_held_too() -> None:
    bases = re.findall(r"^FROM (\S+)", (ROOT / "Dockerfile").read_text(), re.MULTILINE)
    assert bases == ["python:3.11-slim", "rclone/rclone:1"]


def test_at_most_three_things_must_be_given() -> None:
    required = set(re.findall(r"\$\{(\w+):\?", FILE.read_text()))
    assert required == {"COACHDESK_HOST", "COACHDESK_SECRET_KEY", "COACHDESK_PASSWORD"}
    bare = set(re.findall(r"\$\{(\w+)\}", FILE.read_text()))
    assert bare <= required


def test_only_the_front_listens_outside() -> None:
    assert [name for name, service in SERVICES.items() if "ports" in service] == ["front"]


def test_the_broker_keeps_what_it_was_given() -> None:
    command = SERVICES["broker"]["command"]
    assert "--appendonly yes" in command
    assert "--maxmemory-policy noeviction" in command


def test_a_quick_job_never_waits_behind_a_clip() -> None:
    """Every task goes to one of two queues, and each queue has a worker that serves it alone."""
    served = {
        name: re.findall(r"-Q (\S+)", SERVICES[name]["command"]) for name in ("quick", "media")
    }
    assert served == {"quick": ["quick"], "media": ["media"]}
    app.loader.import_default_modules()
    route = app.amqp.router.route
    where = {
        name: route({}, name)["queue"].name for name in app.tasks if not name.startswith("celery.")
    }
    assert where["reviews.intake.tasks.make_playable"] == "media"
    assert {name for name, queue in where.items() if queue == "quick"} >= {
        "reviews.intake.tasks.sweep_jobs",
        "athletes.mail.tasks.deliver_mail",
    }
    assert set(where.values()) == {"quick", "media"}


def test_djangos_check_of_a_deployment_is_silent_under_these_settings(tmp_path: Path) -> None:
    given = {
        "HOST": "desk.example.org",
        "SECRET_KEY": "0123456789abcdef" * 4,
        "PASSWORD": "p4" * 20,
    }
    told = {
        name: re.sub(
            r"\$\{(?:COACHDESK_)?(\w+)(?::([?-])([^}]*))?\}",
            lambda word: given.get(word[1]) or word[3],
            said,
        )
        for name, said in SERVICES["web"]["environment"].items()
    }
    assert "$" not in "".join(told.values())
    told |= {"COACHDESK_DATA": str(tmp_path), "DJANGO_SETTINGS_MODULE": "coachdesk.settings"}
    done = subprocess.run(
        [sys.executable, "manage.py", "check", "--deploy", "--fail-level", "WARNING"],
        cwd=ROOT,
        env={"PATH": os.environ["PATH"], **told},
        capture_output=True,
        text=True,
    )
    assert done.returncode == 0, done.stderr
    assert "no issues" in done.stdout


def test_every_setting_given_is_one_that_is_read() -> None:
    settings = (ROOT / "coachdesk" / "settings.py").read_text() + (
        ROOT / "coachdesk/common/paths.py"
    ).read_text()
    for name in SERVICES["web"]["environment"]:
        assert f'"{name}"' in settings, name


def test_the_front_is_told_every_word_of_its_template() -> None:
    template = Path(ROOT / "deploy" / "nginx.conf.template").read_text()
    words = set(re.findall(r"\$\{(\w+)\}", template))
    given = {name for name in SERVICES["front"]["environment"] if name.startswith("COACHDESK_")}
    assert words == given
    assert "proxy_request_buffering off;" in template
    nginx = (ROOT / "deploy" / "nginx.conf").read_text()
    assert "include /etc/nginx/conf.d/*.conf;" in nginx
    assert "./deploy/nginx.conf:/etc/nginx/nginx.conf:ro" in SERVICES["front"]["volumes"]


def test_every_thread_that_serves_has_a_place_at_the_database() -> None:
    """And a dozen are left for the workers, the clock and a hand at the keyboard."""
    threads = SERVICES["web"]["deploy"]["replicas"] * (
        server_limits.PAGE_THREADS + server_limits.UPLOAD_THREADS
    )
    (places,) = re.findall(r"max_connections=(\d+)", SERVICES["database"]["command"])
    assert int(places) >= threads + 12
