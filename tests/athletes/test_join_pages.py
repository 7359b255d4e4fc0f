"""From the coach's form to the new person's first page, over HTTP."""

import re
from datetime import timedelta

import pytest
from django.core.management import CommandError, call_command
from django.test import Client
from django.utils.timezone import now

from athletes.mail.deliver_mail import deliver_due
from athletes.models import Invitation, Role, User
from tests.conftest import Cast, mails

FORM = {"name": "Nil Arendt", "password": "chalk and iron", "unit": "lb", "timezone": "Asia/Tokyo"}


def invite(coach: User, **changes: str) -> str:
    """Send the form and return the path in the mail."""
    client = Client()
    client.force_login(coach)
    facts = {"email": "nil@example.org", "name": "Nil", "role": "athlete", "coach": coach.pk}
    answer = client.post("/people/invite/", {**facts, **changes})
    assert answer.status_code == 302, answer.content
    found = re.search(r"http://localhost:8000(/join/\S+/)", mails()[-1].body)
    assert found
    return found[1]


def test_the_invitation_arrives_by_mail_and_makes_the_account(cast: Cast) -> None:
    path = invite(cast.coach)
    sent = mails()[-1]
    assert sent.to == ["nil@example.org"]
    assert "Tove Lindqvist invites you to Northgate Barbell" in sent.body
    fresh = Client()
    page = fresh.get(path)
    assert page.headers["Cache-Control"].startswith("max-age=0, no-cache, no-store")
    assert b'value="Nil"' in page.content
    answer = fresh.post(path, FORM)
    assert answer.status_code == 302
    person = User.objects.get(email="nil@example.org")
    assert (person.name, person.unit, person.timezone, person.main_coach) == (
        "Nil Arendt",
        "lb",
        "Asia/Tokyo",
        cast.coach,
    )
    assert int(fresh.session["_auth_user_id"]) == person.pk
    used = Client().get(path)
    assert used.status_code == 410
    assert b"This invitation was used" in used.content


def test_the_token_is_on_no_page_when_the_mail_went_out(cast: Cast) -> None:
    path = invite(cast.coach)
    client = Client()
    client.force_login(cast.coach)
    token = path.split("/")[2]
    assert token.encode() not in client.get("/people/").content


def test_a_password_the_rules_refuse_says_why_and_makes_nobody(cast: Cast) -> None:
    path = invite(cast.coach)
    for poor, says in [("short", b"10 characters"), ("nil@example.org", b"too similar")]:
        answer = Client().post(path, {**FORM, "password": poor})
        assert answer.status_code == 422
        assert says in answer.content
    assert not User.objects.filter(email="nil@example.org").exists()


@pytest.mark.parametrize("zone", ["Europe/Nowhere", "../etc/passwd", ""])
def test_only_a_known_time_zone_is_taken(cast: Cast, zone: str) -> None:
    assert Client().post(invite(cast.coach), {**FORM, "timezone": zone}).status_code == 422


@pytest.mark.parametrize(
    ("change", "status", "says"),
    [
        ({"expires_at": now() - timedelta(days=400)}, 410, "ran out"),
        ({"withdrawn_at": now()}, 410, "was withdrawn"),
        ({"accepted_at": now()}, 410, "was used"),
        ({"token_digest": "0" * 64}, 404, "do not know this link"),
    ],
)
@pytest.mark.parametrize("method", ["get", "post"])
def test_a_dead_link_says_so_plainly(
    cast: Cast, change: dict, status: int, says: str, method: str
) -> None:
    path = invite(cast.coach)
    Invitation.objects.update(**change)
    answer = getattr(Client(), method)(path, FORM)
    assert answer.status_code == status
    assert says in answer.content.decode()
    assert not User.objects.filter(email="nil@example.org").exists()


def test_somebody_who_is_signed_in_does_not_use_up_the_link(cast: Cast) -> None:
    path = invite(cast.coach)
    client = Client()
    client.force_login(cast.coach)
    answer = client.post(path, FORM)
    assert b"You are signed in as Tove Lindqvist" in answer.content
    assert Client().get(path).status_code == 200


@pytest.mark.parametrize(
    "backend",
    [
        "django.core.mail.backends.filebased.EmailBackend",  # the embedded default
        "django.core.mail.backends.smtp.EmailBackend",  # a mail server that is away
    ],
)
def test_when_no_mail_leaves_the_page_shows_the_link(
    cast: Cast, client: Client, settings, tmp_path, backend: str
) -> None:
    settings.EMAIL_BACKEND, settings.EMAIL_FILE_PATH = backend, tmp_path
    settings.EMAIL_HOST, settings.EMAIL_PORT = "127.0.0.1", 1
    client.force_login(cast.coach)
    facts = {"email": "nil@example.org", "role": "athlete", "coach": cast.coach.pk}
    if backend.endswith("smtp.EmailBackend"):  # that it is away shows when the first one is sent
        client.post("/people/invite/", {**facts, "email": "first@example.org"})
        deliver_due()
    answer = client.post("/people/invite/", facts)
    found = re.search(r'value="http://localhost:8000(/join/[^"]+)"', answer.content.decode())
    assert found
    assert Client().get(found[1]).status_code == 200


def test_the_form_says_what_is_wrong(cast: Cast, client: Client) -> None:
    client.force_login(cast.coach)
    answer = client.post("/people/invite/", {"email": cast.athlete.email, "role": "athlete"})
    assert answer.status_code == 422
    assert b"already has an account here" in answer.content
    answer = client.post("/people/invite/", {"email": "a@example.org", "role": "owner"})
    assert answer.status_code == 422
    assert not Invitation.objects.exists()


def test_found_club_prints_a_link_that_makes_the_first_owner(db, capsys) -> None:
    words = ["--name", "Quay Barbell", "--owner-email", "o@example.org", "--owner-name", "Odd"]
    call_command("found_club", *words)
    path = re.search(r"http://localhost:8000(/join/\S+)", capsys.readouterr().out)[1]
    assert Client().post(path, {**FORM, "name": "Odd"}).status_code == 302
    owner = User.objects.get(email="o@example.org")
    assert (owner.role, owner.club.name) == (Role.OWNER, "Quay Barbell")
    with pytest.raises(CommandError, match="already has an account"):
        call_command("found_club", *words)
