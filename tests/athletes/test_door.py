"""Signing in: by e-mail, slowly for whoever guesses, and through one door for the admin too."""

import re

from django.test import Client

from athletes.models import User
from athletes.services.invitations import invite
from tests.conftest import Cast, mails

PASSWORD = "a long passphrase"


def sign_in(client: Client, email: str, password: str = PASSWORD):
    return client.post("/accounts/login/", {"login": email, "password": password})


def test_signs_in_by_mail_address_in_any_case(cast: Cast, client: Client) -> None:
    answer = sign_in(client, "Mira.Solheim@Example.org")
    assert answer.status_code == 302
    assert int(client.session["_auth_user_id"]) == cast.athlete.pk


def test_too_many_bad_tries_are_refused_with_a_sentence(cast: Cast, client: Client) -> None:
    for _ in range(5):
        assert b"do not fit together" in sign_in(client, cast.athlete.email, "wrong").content
    # From now on even the right password waits.
    answer = sign_in(client, cast.athlete.email)
    assert b"Too many tries. Your account is safe." in answer.content
    assert "_auth_user_id" not in client.session


def test_a_machine_that_tries_many_addresses_is_stopped(cast: Cast, client: Client) -> None:
    answers = [sign_in(client, f"nobody{n}@example.org", "wrong") for n in range(40)]
    assert answers[-1].status_code == 429
    assert b"Too many tries" in answers[-1].content


def test_the_same_answer_for_a_wrong_password_and_an_unknown_address(
    cast: Cast, client: Client
) -> None:
    def words(email: str) -> str:
        page = sign_in(client, email, "wrong").content.decode()
        return re.sub(r'value="[^"]*"|content="[^"]*"', "", page)

    assert words(cast.athlete.email) == words("nobody@example.org")


def test_nobody_signs_up(db, client: Client) -> None:
    facts = {"email": "x@example.org", "password1": PASSWORD, "password2": PASSWORD}
    assert b"Coachdesk is by invitation" in client.get("/accounts/signup/").content
    assert b"Coachdesk is by invitation" in client.post("/accounts/signup/", facts).content
    assert not User.objects.exists()


def test_the_admin_has_no_door_of_its_own(cast: Cast, client: Client) -> None:
    answer = client.get("/admin/login/?next=/admin/")
    assert answer.status_code == 302
    assert answer.headers["Location"].startswith("/accounts/login/")
    User.objects.filter(pk=cast.owner.pk).update(is_staff=True, is_superuser=True)
    sign_in(client, cast.owner.email)
    assert client.get("/admin/").status_code == 200


def test_the_admin_stays_shut_for_an_owner_without_staff(cast: Cast, client: Client) -> None:
    sign_in(client, cast.owner.email)
    answer = client.get("/admin/", follow=True)
    assert "admin/index.html" not in [template.name for template in answer.templates]


def test_a_forgotten_password_is_set_by_mail_once(cast: Cast, client: Client) -> None:
    client.post("/accounts/password/reset/", {"email": cast.athlete.email})
    path = re.search(r"http://localhost:8000(/accounts/password/reset/key/\S+)", mails()[0].body)[1]
    page = client.get(path, follow=True)
    fresh = {"password1": "fresh chalk and iron", "password2": "fresh chalk and iron"}
    answer = client.post(page.redirect_chain[-1][0], fresh, follow=True)
    assert b"Your new password is set" in answer.content
    assert sign_in(Client(), cast.athlete.email, "fresh chalk and iron").status_code == 302
    assert b"This link is used up" in Client().get(path, follow=True).content


def test_an_unknown_address_gets_no_mail_and_the_same_page(db, client: Client) -> None:
    answer = client.post("/accounts/password/reset/", {"email": "x@example.org"}, follow=True)
    assert b"Look in your mail" in answer.content
    assert not mails()


def test_a_new_address_counts_when_its_link_was_opened(cast: Cast, client: Client) -> None:
    client.force_login(cast.athlete)
    asked = client.post("/accounts/email/", {"email": "new@example.org", "action_add": ""})
    assert asked.headers["Location"].startswith("/accounts/reauthenticate/")
    client.post(asked.headers["Location"], {"password": PASSWORD})
    cast.athlete.refresh_from_db()
    assert cast.athlete.email == "mira.solheim@example.org"
    found = [
        re.search(r"http://testserver(/accounts/confirm-email/\S+)", letter.body)
        for letter in mails()
        if letter.to == ["new@example.org"]
    ]
    client.post(found[0][1])
    cast.athlete.refresh_from_db()
    assert cast.athlete.email == "new@example.org"


def test_another_address_cannot_be_taken(cast: Cast, client: Client) -> None:
    """Only its owner is told, and even the opened link moves nothing."""
    client.force_login(cast.athlete)
    facts = {"email": cast.coach.email, "action_add": ""}
    asked = client.post("/accounts/email/", facts)
    client.post(asked.headers["Location"], {"password": PASSWORD})
    letters = [letter for letter in mails() if "confirm-email" in letter.body]
    assert [letter.to for letter in letters] == [[cast.coach.email]]
    path = re.search(r"http://testserver(/accounts/confirm-email/\S+)", letters[0].body)[1]
    assert b"does not work any more" in client.get(path).content
    client.post(path)
    cast.athlete.refresh_from_db()
    cast.coach.refresh_from_db()
    assert cast.athlete.email == "mira.solheim@example.org"
    assert cast.coach.email == "tove.lindqvist@example.org"


def device_of(person: User, address: str) -> Client:
    """A browser in which this person signed in before, signed out again."""
    client = Client(REMOTE_ADDR=address)
    assert sign_in(client, person.email).status_code == 302
    client.post("/accounts/logout/")
    return client


def guess(email: str, address: str, times: int) -> list[int]:
    client = Client(REMOTE_ADDR=address)
    return [sign_in(client, email, f"wrong {n}").status_code for n in range(times)]


def test_who_guesses_a_password_does_not_lock_its_owner_out(cast: Cast) -> None:
    guess(cast.athlete.email, "203.0.113.7", 20)
    guesser = Client(REMOTE_ADDR="203.0.113.7")
    assert sign_in(guesser, cast.athlete.email).status_code in {200, 429}
    assert "_auth_user_id" not in guesser.session
    assert sign_in(Client(REMOTE_ADDR="198.51.100.4"), cast.athlete.email).status_code == 302


def test_who_guesses_from_the_gym_does_not_lock_the_gym_out(cast: Cast) -> None:
    gym = "198.51.100.4"
    phones = {person.pk: device_of(person, gym) for person in (cast.athlete, cast.coach)}
    for n in range(40):
        guess(f"nobody{n}@example.org", gym, 1)
    guess(cast.athlete.email, gym, 20)
    for person in (cast.athlete, cast.coach):
        assert sign_in(phones[person.pk], person.email).status_code == 302


def test_guesses_from_a_device_of_ones_own_are_limited_too(cast: Cast) -> None:
    phone = device_of(cast.athlete, "198.51.100.4")
    for _ in range(5):
        assert b"do not fit together" in sign_in(phone, cast.athlete.email, "wrong").content
    assert b"Too many tries" in sign_in(phone, cast.athlete.email).content


def test_a_device_is_known_for_its_own_person_only(cast: Cast) -> None:
    gym = "198.51.100.4"
    phone = device_of(cast.other_athlete, gym)
    for n in range(12):
        guess(f"nobody{n}@example.org", gym, 1)
    assert sign_in(phone, cast.athlete.email).status_code == 429
    assert sign_in(phone, cast.other_athlete.email).status_code == 302


def test_a_device_cookie_of_somebody_s_making_counts_for_nothing(cast: Cast) -> None:
    phone = Client(REMOTE_ADDR="198.51.100.4")
    for n in range(12):
        phone.cookies["known_device"] = f'["made up {n}", [{cast.athlete.pk}]]'
        sign_in(phone, cast.athlete.email, "wrong")
    assert sign_in(phone, cast.athlete.email).status_code in {200, 429}
    assert "_auth_user_id" not in phone.session


def test_many_machines_that_try_one_account_are_stopped_and_its_owner_is_not(cast: Cast) -> None:
    phone = device_of(cast.athlete, "198.51.100.4")
    codes = [guess(cast.athlete.email, f"203.0.113.{n}", 1)[0] for n in range(60)]
    assert codes[:50] == [200] * 50
    assert codes[50:] == [429] * 10
    assert sign_in(phone, cast.athlete.email).status_code == 302


def test_whoever_joins_is_known_on_that_device(cast: Cast, client: Client) -> None:
    _, token = invite(by=cast.owner, email="new@example.org", name="New", role="athlete")
    fields = {"name": "New", "password": "fresh chalk and iron", "unit": "kg", "timezone": "UTC"}
    assert client.post(f"/join/{token}/", fields).status_code == 302
    assert "known_device" in client.cookies
