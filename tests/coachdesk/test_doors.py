"""What a site behind HTTPS must say. Header names and values: RFC 6797 (HSTS), RFC 6265 (cookies),
the Fetch Standard (CORP) and the HTML Standard (COOP)."""

import os
import subprocess
import sys
from pathlib import Path

import pytest
from django.test import Client

from tests.test_docs import ROOT

SAID = """
import django; django.setup()
from django.test import Client
told = Client().get("/accounts/login/", secure=True, headers={"host": "desk.example.org"})
for name, value in told.headers.items(): print(f"{name}: {value}")
for cookie in told.cookies.values(): print(cookie.output())
plain = Client().get("/accounts/login/", headers={"host": "desk.example.org"})
print("plain", plain.status_code, plain.headers["Location"])
print("health", Client().get("/health/live", headers={"host": "desk.example.org"}).status_code)
"""


def under_https(tmp_path: Path, *words: str) -> subprocess.CompletedProcess[str]:
    told = {
        "COACHDESK_DATA": str(tmp_path),
        "COACHDESK_URL": "https://desk.example.org",
        "COACHDESK_HOSTS": "desk.example.org",
        "COACHDESK_BEHIND_PROXY": "true",
        "COACHDESK_STATIC_STORAGE": "django.contrib.staticfiles.storage.StaticFilesStorage",
        "DJANGO_SETTINGS_MODULE": "coachdesk.settings",
    }
    # The browser tests set this one for themselves; no deployment does.
    ours = {name: said for name, said in os.environ.items() if name != "DJANGO_ALLOW_ASYNC_UNSAFE"}
    return subprocess.run(
        [sys.executable, *words],
        cwd=ROOT,
        env={**ours, **told},
        capture_output=True,
        text=True,
    )


def test_djangos_own_check_of_a_deployment_is_silent(tmp_path: Path) -> None:
    done = under_https(tmp_path, "manage.py", "check", "--deploy", "--fail-level", "WARNING")
    assert done.returncode == 0, done.stderr
    assert "no issues" in done.stdout


def test_every_door_is_shut_under_https(tmp_path: Path) -> None:
    done = under_https(tmp_path, "-c", SAID)
    assert done.returncode == 0, done.stderr
    for line in (
        "Strict-Transport-Security: max-age=31536000",
        "X-Content-Type-Options: nosniff",
        "X-Frame-Options: DENY",
        "Referrer-Policy: same-origin",
        "Cross-Origin-Opener-Policy: same-origin",
        "Cross-Origin-Resource-Policy: same-origin",
        "plain 301 https://desk.example.org/accounts/login/",
        "health 200",
    ):
        assert line in done.stdout.splitlines()
    (cookie,) = [line for line in done.stdout.splitlines() if "csrftoken" in line]
    assert {"Secure", "HttpOnly", "SameSite=Lax"} <= set(cookie.split("; "))
    (policy,) = [line for line in done.stdout.splitlines() if line.startswith("Content-Security")]
    assert "unsafe" not in policy
    assert "default-src 'none'" in policy


@pytest.mark.django_db
def test_no_other_site_may_embed_anything(client: Client) -> None:
    for path in ("/health/live", "/accounts/login/", "/nothing-is-here/"):
        assert client.get(path)["Cross-Origin-Resource-Policy"] == "same-origin"
