"""The club, its people and their questions, as rows. Clips come later, as they are drawn."""

from datetime import timedelta
from decimal import Decimal

from django.db import transaction
from django.utils import timezone

from athletes.models import Club, Role, User
from coachdesk.common.units import to_kg
from coachdesk.demo.answered_questions import ANSWERED
from coachdesk.demo.club_people import CLUB, PASSWORD, PEOPLE
from coachdesk.demo.scenario import Ask, Pain, Person, Shot
from coachdesk.demo.training_history import train
from coachdesk.demo.waiting_questions import WAITING
from coachdesk.demo.write_programme import plan
from programming.models import Movement
from reviews.intake.clips import add_clip, save_clip
from reviews.intake.models import Clip, Submission
from reviews.intake.submitting import open_draft, save_draft, say_round_up, send
from reviews.library.starting import install_starter

ZONE = "Europe/Dublin"
WEEK = [*ANSWERED, *WAITING]


@transaction.atomic
def found() -> Club:
    """The demo's club, made once. One transaction."""
    club = Club.objects.filter(name=CLUB).first()
    if club:
        return club
    club = Club.objects.create(name=CLUB, timezone=ZONE)
    install_starter(club)
    people: dict[str, User] = {}
    for person in PEOPLE:
        people[person.key] = _join(club, person, people)
    asked: dict[str, Submission] = {}
    for ask in WEEK:
        earlier = asked.get(ask.check_back_of)
        asked[ask.who] = _ask(ask, people[ask.who], earlier)
    train(people, people["anselm"])
    plan(people, people["anselm"])
    return club


def _join(club: Club, person: Person, people: dict[str, User]) -> User:
    return User.objects.create_user(
        person.email,
        PASSWORD,
        name=person.name,
        role=person.role,
        club=club,
        main_coach=people.get(person.coach),
        unit=person.unit,
        timezone=ZONE,
        is_staff=person.role == Role.OWNER,
        is_superuser=person.role == Role.OWNER,
    )


def _ask(ask: Ask, athlete: User, earlier: Submission | None) -> Submission:
    draft = open_draft(athlete=athlete)
    if earlier:
        draft.check_back_of = earlier
        draft.save(update_fields=["check_back_of"])
    told = {
        "question": ask.question,
        "tried": ask.tried,
        "goal": ask.goal,
        "equipment": list(ask.equipment),
    }
    save_draft(draft=draft, changes={**told, "pain": _pain(ask.pain)})
    for shot in ask.shots:
        _describe(add_clip(submission=draft, unit=athlete.unit), shot)
    if ask.round_up:
        say_round_up(submission=draft, given=True, by=athlete)
    sent = send(draft=draft)
    sent.sent_at = timezone.now() - timedelta(days=ask.days_ago)
    sent.save(update_fields=["sent_at"])
    return sent


def _pain(pain: Pain | None) -> dict[str, object] | None:
    if pain is None:
        return None
    return {"where": pain.where, "score": pain.score, "since": pain.since, "signs": [*pain.signs]}


def _describe(clip: Clip, shot: Shot) -> None:
    changes = {
        "movement": Movement.objects.get(club=None, name=shot.movement),
        "load_kg": to_kg(Decimal(str(shot.load)), "kg"),
        "reps": shot.reps,
        "rpe": Decimal(shot.rpe),
        "view": shot.view,
        "shows_fault": shot.shows_fault,
    }
    save_clip(clip=clip, changes=changes)
