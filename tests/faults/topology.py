"""The parts of docker-compose.yml as processes on loopback: nginx, web, two workers, beat,
PostgreSQL, a broker with an append-only file and S3-compatible storage."""

import os
import shutil
import string
import subprocess
import sys
from pathlib import Path
from urllib.parse import urlsplit

import httpx

from tests.faults.ground import CHECKOUT, Ground, Process, free_port, until

DEPLOY = CHECKOUT / "deploy"
LEASE_SECONDS = 4
TEMPORARY = ("client_body", "proxy", "fastcgi", "uwsgi", "scgi")


def nginx_of(folder: Path, *, listen: int, web: int, storage: str) -> list[str]:
    """The command of a front whose configuration was written to `folder`."""
    nginx = shutil.which("nginx", path=f"{os.environ['PATH']}:/usr/sbin")
    assert nginx, "nginx is missing, and this test needs it: apt-get install nginx-light"
    template = (DEPLOY / "nginx.conf.template").read_text()
    server = string.Template(template).safe_substitute(
        COACHDESK_FRONT_LISTEN=f"127.0.0.1:{listen}",
        COACHDESK_FRONT_WEB=f"127.0.0.1:{web}",
        COACHDESK_FRONT_STORAGE=storage,
        COACHDESK_FRONT_MEDIA=str(folder / "media"),
    )
    paths = "".join(f"{name}_temp_path {folder}/{name};\n" for name in TEMPORARY)
    user = "user root;" if os.geteuid() == 0 else ""
    # What the image mounts, with paths that are ours.
    text = (DEPLOY / "nginx.conf").read_text()
    for theirs, ours in (
        ("worker_processes auto;", f"worker_processes 1; daemon off; {user}"),
        ("/run/nginx.pid", f"{folder}/nginx.pid"),
        ("/dev/stderr", f"{folder}/nginx.log"),
        ("include /etc/nginx/conf.d/*.conf;", paths + server),
    ):
        assert text.count(theirs) == 1, theirs
        text = text.replace(theirs, ours)
    conf = folder / "nginx.conf"
    conf.write_text(text)
    return [nginx, "-p", str(folder), "-c", str(conf)]


class Topology(Ground):
    def __init__(self, folder: Path, *, database: str, storage: str) -> None:
        super().__init__(folder, {})
        self.web_port, self.front_port = free_port(), free_port()
        self.url_of_front = f"http://127.0.0.1:{self.front_port}"
        self.storage = urlsplit(storage).netloc.rpartition("@")[2] or "127.0.0.1:9"
        self._environment |= {
            "COACHDESK_DATABASE_URL": database,
            "COACHDESK_STORAGE_URL": storage,
            "COACHDESK_CACHE_URL": self.url[:-1] + "1",
            "COACHDESK_URL": self.url_of_front,
            "COACHDESK_BEHIND_PROXY": "true",
            "COACHDESK_FRONT_SENDS_MEDIA": "true",
            "COACHDESK_MEDIA_LEASE_SECONDS": str(LEASE_SECONDS),
        }

    def use_folder(self, clips: Path) -> None:
        """What starts from now on has its clips in the data folder."""
        (self.folder / "media").symlink_to(clips)
        self._environment["COACHDESK_STORAGE_URL"] = ""

    def manage(self, *words: str) -> str:
        command = [sys.executable, "manage.py", *words]
        environment = self._environment
        done = subprocess.run(
            command, cwd=CHECKOUT, env=environment, capture_output=True, text=True
        )
        assert done.returncode == 0, done.stderr[-3000:]
        return done.stdout

    def lasting_broker(self) -> Process:
        """Keeps every message in a file before it says yes."""
        words = ["--appendonly", "yes", "--maxmemory-policy", "noeviction"]
        return self._broker(*words, "--appendfsync", "always")

    def queue_worker(self, queue: str, *pool: str) -> Process:
        words = ["worker", "-Q", queue, "-n", f"{queue}-{len(self._started)}@localhost", *pool]
        return self._celery(*words, "--without-gossip", "--without-mingle")

    def beat(self) -> Process:
        return self._celery("beat", "--pidfile", "", "--schedule", str(self.folder / "beat"))

    def _celery(self, *words: str) -> Process:
        command = [sys.executable, "-m", "celery", "-A", "coachdesk", "--skip-checks"]
        return self._start([*command, *words, "-l", "INFO"])

    def web(self) -> Process:
        return self._start([sys.executable, "-m", "coachdesk.server", "--port", str(self.web_port)])

    def front(self) -> Process:
        """nginx, from the template that the compose file mounts."""
        words = nginx_of(
            self.folder,
            listen=self.front_port,
            web=self.web_port,
            storage=self.storage,
        )
        process = self._start(words)
        until(self.is_ready, 60, "the site is ready through nginx")
        return process

    def is_ready(self) -> bool:
        try:
            return httpx.get(f"{self.url_of_front}/health/ready").status_code == 200
        except httpx.TransportError:
            return False


class Person(httpx.Client):
    """Somebody signed in through the front, as a browser is."""

    def __init__(self, site: str, email: str, password: str) -> None:
        super().__init__(base_url=site, timeout=60)
        self.get("/accounts/login/")
        told = {"login": email, "password": password, "csrfmiddlewaretoken": self.token}
        assert self.post("/accounts/login/", data=told).status_code == 302, email

    @property
    def token(self) -> str:
        return str(self.cookies["csrftoken"])

    def say(self, method: str, path: str, body: object = None) -> dict[str, object]:
        """One call of the API; its answer."""
        headers = {"X-CSRFToken": self.token}
        answer = self.request(method, f"/api/v1/{path}", json=body or {}, headers=headers)
        assert answer.is_success, f"{method} {path}: {answer.status_code} {answer.text[:600]}"
        return dict(answer.json()) if answer.content else {}

    def headers_of_tus(self) -> dict[str, str]:
        cookies = "; ".join(f"{name}={value}" for name, value in self.cookies.items())
        return {"Cookie": cookies, "X-CSRFToken": self.token}
