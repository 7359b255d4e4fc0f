"""Codes from an app and recovery codes, end to end over HTTP."""

import base64
import hmac
import re
import struct
import time

import pytest
from django.core.cache import cache
from django.test import Client

from tests.conftest import Cast

PASSWORD = "a long passphrase"


def code_of(secret: str, moment: float) -> str:
    """A time-based one-time password by RFC 6238 over RFC 4226, written from the two texts."""
    key = base64.b32decode(secret + "=" * (-len(secret) % 8))
    digest = hmac.digest(key, struct.pack(">Q", int(moment) // 30), "sha1")
    low = digest[-1] & 0x0F
    number = struct.unpack(">I", digest[low : low + 4])[0] & 0x7FFFFFFF
    return f"{number % 1_000_000:06d}"


def test_our_own_reading_of_the_standard() -> None:
    """RFC 6238, appendix B: at 59 s the eight digits are 94287082; six digits are the last six."""
    secret = base64.b32encode(b"12345678901234567890").decode()
    assert code_of(secret, 59) == "287082"
    assert code_of(secret, 1111111109) == "081804"


@pytest.fixture
def device(cast: Cast) -> Client:
    client = Client()
    client.post("/accounts/login/", {"login": cast.athlete.email, "password": PASSWORD})
    client.post("/accounts/reauthenticate/", {"password": PASSWORD})
    return client


def activate(device: Client) -> str:
    page = device.get("/accounts/2fa/totp/activate/")
    secret = page.context["form"].secret
    answer = device.post("/accounts/2fa/totp/activate/", {"code": code_of(secret, time.time())})
    assert answer.status_code == 302
    return secret


def recovery_codes(device: Client) -> list[str]:
    page = device.get("/accounts/2fa/recovery-codes/").content.decode()
    return re.findall(r"<code>(\w+)</code>", page)


def second_step(cast: Cast, code: str) -> Client:
    fresh = Client()
    answer = fresh.post("/accounts/login/", {"login": cast.athlete.email, "password": PASSWORD})
    assert answer.headers["Location"].startswith("/accounts/2fa/authenticate/")
    assert "_auth_user_id" not in fresh.session
    fresh.post("/accounts/2fa/authenticate/", {"code": code})
    return fresh


def test_a_wrong_code_switches_nothing_on(device: Client) -> None:
    answer = device.post("/accounts/2fa/totp/activate/", {"code": "000000"})
    assert b"That code is not right" in answer.content


def test_the_picture_carries_our_name(device: Client) -> None:
    page = device.get("/accounts/2fa/totp/activate/")
    assert "issuer=Coachdesk" in page.context["totp_url"]
    assert "data:image/svg+xml" in page.content.decode()


def test_the_password_alone_is_no_longer_enough(cast: Cast, device: Client) -> None:
    secret = activate(device)
    cache.clear()  # a code counts once; this is the next half minute
    assert "_auth_user_id" not in second_step(cast, "000000").session
    assert "_auth_user_id" in second_step(cast, code_of(secret, time.time())).session


def test_a_recovery_code_works_once(cast: Cast, device: Client) -> None:
    activate(device)
    codes = recovery_codes(device)
    assert len(codes) == 10
    assert "_auth_user_id" in second_step(cast, codes[0]).session
    assert "_auth_user_id" not in second_step(cast, codes[0]).session
    assert codes[0] not in recovery_codes(device)


def test_recovery_codes_download_and_renew(device: Client) -> None:
    activate(device)
    old = recovery_codes(device)
    sheet = device.get("/accounts/2fa/recovery-codes/download/")
    assert "attachment" in sheet.headers["Content-Disposition"]
    assert all(code in sheet.content.decode() for code in old)
    device.post("/accounts/2fa/recovery-codes/generate/")
    assert not set(old) & set(recovery_codes(device))


@pytest.mark.django_db(transaction=True)
def test_only_new_codes_are_said_to_end_old_ones(device: Client) -> None:
    """allauth says it once the transaction is over, within the request."""
    activate(device)
    first = device.get("/accounts/2fa/recovery-codes/").content.decode()
    assert "Your recovery codes are ready." in first
    assert "no longer work" not in first
    device.post("/accounts/2fa/recovery-codes/generate/")
    renewed = device.get("/accounts/2fa/recovery-codes/").content.decode()
    assert "New recovery codes are ready. The old ones no longer work." in renewed


def test_switching_codes_off_asks_who_you_are(cast: Cast, device: Client) -> None:
    activate(device)
    late = Client()
    late.force_login(cast.athlete)
    answer = late.post("/accounts/2fa/totp/deactivate/")
    assert answer.headers["Location"].startswith("/accounts/reauthenticate/")
    device.post("/accounts/2fa/totp/deactivate/")
    fresh = Client()
    fresh.post("/accounts/login/", {"login": cast.athlete.email, "password": PASSWORD})
    assert "_auth_user_id" in fresh.session


def test_guessing_codes_is_slow(cast: Cast, device: Client) -> None:
    activate(device)
    cache.clear()
    fresh = Client()
    fresh.post("/accounts/login/", {"login": cast.athlete.email, "password": PASSWORD})
    pages = [fresh.post("/accounts/2fa/authenticate/", {"code": "000000"}) for _ in range(8)]
    assert b"Too many tries" in pages[-1].content


def test_other_sessions_are_signed_out_from_the_list(cast: Cast, device: Client) -> None:
    other = Client()
    other.post("/accounts/login/", {"login": cast.athlete.email, "password": PASSWORD})
    assert other.get("/me/").status_code == 200
    assert device.get("/accounts/sessions/").context["session_count"] == 2
    device.post("/accounts/sessions/")
    assert other.get("/me/").status_code == 302
    assert device.get("/me/").status_code == 200
