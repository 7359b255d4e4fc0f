"""Who is in the club, who joins, and one's own page."""

from uuid import uuid4

from athletes.models import PainReport
from athletes.webhooks.models import Webhook
from tests.access.expecting import (
    ROLES,
    Row,
    api,
    coached,
    coaches_page,
    owners,
    shared,
    signed_in,
)
from tests.access.world import World


def person(world: World) -> dict[str, object]:
    return {"pk": world.athlete.pk}


def invitation(world: World) -> dict[str, object]:
    return {"pk": world.invitation.pk}


def new_athlete(world: World) -> dict[str, object]:
    return {"email": "another@example.org", "role": "athlete", "coach": world.coach.pk}


def pain(world: World) -> dict[str, object]:
    made = PainReport.objects.create(athlete=world.athlete, where="Left knee", score=3)
    return {"pk": made.pk}


def hook(world: World) -> dict[str, object]:
    made = Webhook.objects.create(
        club=world.athlete.club, url="https://example.org/", events=["reply.published"], secret="s"
    )
    return {"pk": made.pk}


# Without an object: an owner of any club has the page of that club.
OWNERS_PAGE = {**signed_in(403), "owner": 200, "foreign_owner": 200}
JOINS = {"name": "Nil", "password": "chalk and iron", "unit": "kg", "timezone": "UTC"}

ROWS = [
    Row("people", coaches_page(200)),
    # The main coach must be of the inviter's own club, so a foreign one is a wrong choice.
    Row("invite", {**coaches_page(302), "stranger": 422, "foreign_owner": 422}, "POST",
        data=new_athlete),
    Row("invite", coaches_page(422), "POST", about="nothing filled in"),
    Row("invite", {**coaches_page(422), "owner": 302, "foreign_owner": 302}, "POST",
        data=lambda world: {"email": "another@example.org", "role": "owner"}, about="an owner"),
    Row("invitation-withdraw", {**coached(302), "second_coach": 404}, "POST", args=invitation),
    Row("person", {**coached(200, athletes=404), "athlete": 302}, args=person),
    Row("person", {**coached(403, athletes=404), "athlete": 302, "owner": 302}, "POST",
        args=person, data=lambda world: {"role": "coach"}),
    Row("pain-close", shared(302), "POST", args=pain),
    Row("pain-reopen", shared(302), "POST", args=pain),
    Row("person-deactivate", owners(302), "POST", args=person),
    Row("person-bring-back", owners(302), "POST", args=person),
    Row("tokens", signed_in(200)),
    Row("tokens", signed_in(422), "POST", about="nothing chosen"),
    Row("token-end", signed_in(302), "POST", args=lambda world: {"pk": uuid4()}),
    Row("server", OWNERS_PAGE),
    Row("clip-again", owners(302), "POST", args=lambda world: {"pk": world.failed_clip.pk}),
    Row("webhooks", OWNERS_PAGE),
    Row("webhooks", {**OWNERS_PAGE, "owner": 422, "foreign_owner": 422}, "POST"),
    Row("webhook", owners(200), args=hook),
    Row("webhook-end", owners(302), "POST", args=hook),
    api("api-webhooks", OWNERS_PAGE),
    api("api-webhooks", {**OWNERS_PAGE, "owner": 400, "foreign_owner": 400}, method="POST"),
    api("api-webhook", owners(204), method="DELETE", args=hook),
    api("api-deliveries", owners(200), args=hook),
    Row("api-docs", signed_in(200)),
    api("api-schema", signed_in(200), query="?format=json"),
    api("api-me", signed_in(200)),
    api("api-me", signed_in(200), method="PATCH", data=lambda world: {"unit": "lb"}),
    api("api-people", signed_in(200)),
    api("api-person", {**coached(200, athletes=404), "athlete": 200}, args=person),
    api("api-person", owners(200), method="PATCH", args=person,
        data=lambda world: {"role": "coach"}),
    api("api-person-close", owners(200), method="POST", args=person),
    api("api-person-bring-back", owners(200), method="POST", args=person),
    api("api-invitations", coaches_page(200)),
    api("api-invitations", {**coaches_page(201), "stranger": 400, "foreign_owner": 400},
        method="POST", data=new_athlete),
    api("api-invitation", {**coached(204), "second_coach": 404}, method="DELETE", args=invitation),
    Row("profile", signed_in(200)),
    Row("profile", signed_in(302), "POST",
        data=lambda world: {"name": "New", "unit": "lb", "timezone": "UTC", "letter_keys": "True"}),
    # The link is the right to join; somebody who is signed in is asked to sign out first.
    Row("join", dict.fromkeys(ROLES, 200), args=lambda world: {"token": world.token}),
    Row("join", {**signed_in(200), "anonymous": 302}, "POST",
        args=lambda world: {"token": world.token}, data=lambda world: JOINS),
    Row("join", dict.fromkeys(ROLES, 404), args=lambda world: {"token": "guessed"},
        about="guessed"),
]  # fmt: skip
