"""From a fault to the programme and back, as coach and athlete meet it: every page and mail names
the load that the programme resolves to, and a change made after the reply is told."""

import re
from datetime import timedelta
from html import unescape
from typing import Any

import pytest
from django.core import mail
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from athletes.mail.deliver_mail import deliver_due
from athletes.models import User
from programming.logs.models import MaxKind, MaxRecord, MaxSource
from programming.models import Movement
from programming.plans.models.correction import Correction
from programming.plans.schemas import training_day_data
from reviews.library.starter import STARTER
from reviews.models import Drill, Note, ReplyVersion
from reviews.replies.forms import drill_fields
from reviews.replies.models import ProgrammeNotice
from reviews.replies.services.publish_reply import publish_reply
from tests.conftest import Cast
from tests.programming.corrections import ground
from tests.reviews.replies.rows import a_clip, a_note, a_submission, statements
from tests.reviews.replies.test_apply_correction import address, asked, seal_of, send

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("_monday")]
CAP_85 = {"cap-percent": "85", "check_back_on": "2026-12-11"}


@pytest.fixture
def _monday(time_machine: Any) -> None:
    time_machine.move_to("2026-11-30 09:00:00+00:00", tick=False)


@pytest.fixture
def note(cast: Cast) -> Note:
    clip = a_clip(a_submission(cast.athlete), movement=ground.movement())
    made = a_note(cast.coach, clip)
    Note.objects.filter(pk=made.pk).update(fault_name="Hips rise first", rank=1)
    return Note.objects.get(pk=made.pk)


@pytest.fixture
def coach(client: Client, cast: Cast) -> Client:
    client.force_login(cast.coach)
    return client


@pytest.fixture
def athlete(cast: Cast) -> Client:
    client = Client()
    client.force_login(cast.athlete)
    return client


def a_max(athlete: User, kg: int, day: Any = ground.MONDAY) -> None:
    MaxRecord.objects.create(
        athlete=athlete, movement=ground.movement(), kind=MaxKind.TECHNICAL, day=day,
        source=MaxSource.HAND, reason="Meet", kg=kg, low_kg=kg, high_kg=kg,
    )  # fmt: skip


def plain(answer: Any) -> str:
    """What a page says, without tags and with one kind of space."""
    text = re.sub(r"<[^>]+>", " ", answer.content.decode())
    return re.sub(r"[\s\u2009\u00a0\u202f]+", " ", text).replace(" ,", ",")


def mails() -> list[str]:
    return [re.sub(r"[ \u2009]+", " ", one.subject + "\n" + one.body) for one in mail.outbox]


def reply_page(athlete: Client, note: Note) -> str:
    return plain(athlete.get(reverse("submission", args=[note.clip.submission_id])))


def planned(cast: Cast) -> Any:
    """A written load of 150 kg, and a technical max of 150: capped at 85%, it is 127.5."""
    made = ground.programme(cast.athlete)
    a_max(cast.athlete, 150)
    return made


def test_reply_mail_and_programme_name_the_load_of_the_preview(
    cast: Cast, coach: Client, athlete: Client, note: Note
) -> None:
    made = planned(cast)
    preview = plain(coach.get(address(note), asked("cap", **CAP_85)))
    # 85% of 150 is 127.5, which the usual plates load exactly.
    assert "Low-bar squat 3 × 3, 127.5 kg" in preview
    send(coach, note, asked("cap", **CAP_85))
    publish_reply(coach=cast.coach, submission_id=note.clip.submission_id)
    deliver_due()
    first = made.sessions.get(week=1, position=1)
    (shown,) = [
        one for one in training_day_data(cast.athlete)["planned"] if one["id"] == str(first.pk)
    ]
    assert shown["lines"][0]["load"] == "127.5"
    page, (sent,) = reply_page(athlete, note), mails()
    for text in (page, sent):
        assert "Low-bar squat 3 × 3, 127.5 kg" in text
        assert "was Low-bar squat 3 × 3, 150 kg" in text
        assert "Low-bar squat 3 × 3, 150 kg, not above" not in text
    assert "Low-bar squat 4 × 5, 120 kg" in page, "80% of 150, as the programme loads it"


def test_the_reply_follows_the_programme_when_the_max_moves(
    cast: Cast, coach: Client, athlete: Client, note: Note, time_machine: Any
) -> None:
    planned(cast)
    send(coach, note, asked("cap", **CAP_85))
    version = publish_reply(coach=cast.coach, submission_id=note.clip.submission_id)
    time_machine.move_to("2026-12-01 09:00:00+00:00", tick=False)
    a_max(cast.athlete, 140, ground.MONDAY + timedelta(days=1))
    page = reply_page(athlete, note)
    # 85% of 140 is 119; the nearest below it that loads is 117.5.
    assert "Mon 7 Dec Low-bar squat 3 × 3, 117.5 kg" in page
    assert ReplyVersion.objects.get().content == version.content, "what was sent never changes"


def test_a_change_after_the_reply_is_told_on_today_reply_and_by_mail(
    cast: Cast, coach: Client, athlete: Client, note: Note, time_machine: Any
) -> None:
    planned(cast)
    publish_reply(coach=cast.coach, submission_id=note.clip.submission_id)
    deliver_due()
    ReplyVersion.objects.update(understood_at=timezone.now())
    time_machine.move_to("2026-11-30 10:00:00+00:00", tick=False)
    send(coach, note, asked("cap", **CAP_85))
    assert "told on Today" in plain(coach.get(address(note)))
    home = plain(athlete.get(reverse("athlete-home")))
    assert "Your programme was changed" in home
    assert "Low-bar squat not above 85% of the technical max" in home
    time_machine.move_to("2026-11-30 10:11:00+00:00", tick=False)
    deliver_due()
    _, told = mails()
    assert "Your programme was changed: Low-bar squat not above 85%" in told
    assert "Mon 30 Nov: Low-bar squat 3 × 3, 127.5 kg" in told
    assert "because of: Hips rise first" in told
    assert f"/submissions/{note.clip.submission_id}/#programme" in told
    page = reply_page(athlete, note)
    assert "after this reply was sent" in page
    assert "Low-bar squat 3 × 3, 127.5 kg" in page
    assert "See what changed" not in plain(athlete.get(reverse("athlete-home")))
    deliver_due()
    assert len(mail.outbox) == 2


def test_a_coach_who_reads_along_takes_nothing_off_today(
    cast: Cast, coach: Client, athlete: Client, note: Note
) -> None:
    planned(cast)
    publish_reply(coach=cast.coach, submission_id=note.clip.submission_id)
    send(coach, note, asked("cap", **CAP_85))
    coach.get(reverse("submission", args=[note.clip.submission_id]))
    assert "See what changed" in plain(athlete.get(reverse("athlete-home")))


def test_taken_back_at_once_nobody_is_told(
    cast: Cast, coach: Client, athlete: Client, note: Note, time_machine: Any
) -> None:
    planned(cast)
    publish_reply(coach=cast.coach, submission_id=note.clip.submission_id)
    deliver_due()
    send(coach, note, asked("cap", **CAP_85))
    coach.post(reverse("correction-back", args=[Correction.objects.get().pk]))
    time_machine.move_to("2026-11-30 12:00:00+00:00", tick=False)
    deliver_due()
    assert len(mail.outbox) == 1, "the reply's own"
    assert "See what changed" not in plain(athlete.get(reverse("athlete-home")))
    assert "not above 85%" not in reply_page(athlete, note)


@pytest.mark.parametrize("before", [True, False], ids=["in the reply", "after the reply"])
def test_what_was_told_and_is_taken_back_is_told_again(
    cast: Cast, coach: Client, athlete: Client, note: Note, time_machine: Any, before: bool
) -> None:
    planned(cast)
    if before:
        send(coach, note, asked("cap", **CAP_85))
    publish_reply(coach=cast.coach, submission_id=note.clip.submission_id)
    if not before:
        send(coach, note, asked("cap", **CAP_85))
    time_machine.move_to("2026-11-30 12:00:00+00:00", tick=False)
    deliver_due()
    coach.post(reverse("correction-back", args=[Correction.objects.get().pk]))
    assert "Taken back:" in plain(athlete.get(reverse("athlete-home")))
    time_machine.move_to("2026-11-30 12:11:00+00:00", tick=False)
    deliver_due()
    assert "was taken back: Low-bar squat not above 85%" in mails()[-1]
    page = reply_page(athlete, note)
    assert "Taken back on Mon 30 Nov. This no longer holds" in page
    assert "127.5 kg" not in page


def test_ended_after_training_it_says_from_which_day(
    cast: Cast, coach: Client, athlete: Client, note: Note, time_machine: Any
) -> None:
    made = planned(cast)
    send(coach, note, asked("cap", **CAP_85))
    publish_reply(coach=cast.coach, submission_id=note.clip.submission_id)
    ground.train(ground.squats(made)[0])
    time_machine.move_to("2026-12-01 12:00:00+00:00", tick=False)
    coach.post(reverse("correction-back", args=[Correction.objects.get().pk]))
    assert "Ends on Tue 1 Dec" in plain(athlete.get(reverse("athlete-home")))
    page = reply_page(athlete, note)
    assert "From Tue 1 Dec on this no longer holds" in page
    assert "Mon 30 Nov Low-bar squat 3 × 3, 127.5 kg" in page, "what was trained stays"
    assert "Thu 3 Dec Low-bar squat" not in page


def test_a_new_version_tells_it_and_no_second_mail_goes_out(
    cast: Cast, coach: Client, athlete: Client, note: Note, time_machine: Any
) -> None:
    planned(cast)
    publish_reply(coach=cast.coach, submission_id=note.clip.submission_id)
    send(coach, note, asked("cap", **CAP_85))
    coach.post(reverse("desk-claim", args=[note.clip.submission_id]), {"change": "yes"})
    publish_reply(coach=cast.coach, submission_id=note.clip.submission_id)
    time_machine.move_to("2026-11-30 12:00:00+00:00", tick=False)
    deliver_due()
    assert sorted(one.subject[:8] for one in mail.outbox) == ["Tove Lin", "Updated:"]
    assert ProgrammeNotice.objects.get().read_at is not None


def test_another_athlete_is_told_nothing(cast: Cast, coach: Client, note: Note) -> None:
    planned(cast)
    publish_reply(coach=cast.coach, submission_id=note.clip.submission_id)
    send(coach, note, asked("cap", **CAP_85))
    other = Client()
    other.force_login(cast.other_athlete)
    assert "See what changed" not in plain(other.get(reverse("athlete-home")))


def test_applied_the_page_shows_what_was_done_and_no_second_apply(
    cast: Cast, coach: Client, note: Note
) -> None:
    planned(cast)
    answer = send(coach, note, asked("cap", **CAP_85))
    body = coach.get(answer.url).content.decode()
    text = plain(coach.get(answer.url))
    assert "Applied" in text
    assert "Low-bar squat 3 × 3, 127.5 kg" in text
    assert "Check back by Fri 11 Dec" in text
    assert "The reply will say so when it is sent" in text
    assert 'name="seal"' not in body
    assert 'name="kind"' not in body
    assert 'name="kind"' in coach.get(address(note), {"another": "1"}).content.decode()
    coach.post(reverse("correction-back", args=[Correction.objects.get().pk]))
    assert 'name="kind"' in coach.get(address(note)).content.decode()


def test_every_dose_of_the_starter_fits_the_field_or_becomes_the_note() -> None:
    drills = [drill for faults in STARTER.values() for one in faults for drill in one.drills]
    assert len(drills) > 60
    for drill in drills:
        fields = drill_fields(Drill(name=drill.name, dose=drill.dose), "kg")
        assert ("dose" in fields) == drill.dose[0].isdigit(), drill.dose


@pytest.mark.parametrize(
    "dose",
    [
        "3 × 4 at 65 to 70% of technical max, 2 s pause",
        "4 × 10 s at 90 to 100% of technical max, no squat",
        "last rep of each set, 5 s",
    ],
)
def test_the_starters_own_doses_go_into_the_programme(
    cast: Cast, coach: Client, note: Note, dose: str
) -> None:
    ground.programme(cast.athlete)
    drill = Drill.objects.create(club=cast.coach.club, name="Line drill", dose=dose)
    Note.objects.filter(pk=note.pk).update(drill=drill)
    page = coach.get(address(note)).content.decode()
    found = re.findall(r'name="add-drill-(drill_name|dose|note)" value="([^"]*)"', page)
    fields = {f"add-drill-{name}": unescape(text) for name, text in found}
    if not dose[0].isdigit():  # no sets and reps: the coach writes them, the words are the note
        assert fields["add-drill-note"] == dose
        fields["add-drill-dose"] = "1x1"
    else:
        assert fields["add-drill-dose"] == dose
    data = asked("add-drill", **fields)
    shown = coach.get(address(note), data, headers={"hx-request": "true"}).content.decode()
    assert coach.post(address(note), {**data, "seal": seal_of(shown)}).status_code == 302
    (line,) = {
        (one.sets, one.reps, one.note)
        for one in Movement.objects.get(name="Line drill").prescriptions.all()
    }
    sets, reps = [int(one) for one in re.findall(r"\d+", fields["add-drill-dose"])[:2]]
    held = f"{reps} s" in line[2]  # seconds are not reps
    assert line[:2] == (sets, 1 if held else reps)
    assert all(word in line[2] for word in re.findall(r"[a-z]{3,}", dose))


def test_no_statement_more_for_a_longer_programme(
    cast: Cast, coach: Client, athlete: Client, note: Note
) -> None:
    ground.programme(cast.athlete)
    a_max(cast.athlete, 150)
    send(coach, note, asked("cap", **CAP_85))
    publish_reply(coach=cast.coach, submission_id=note.clip.submission_id)
    url = reverse("submission", args=[note.clip.submission_id])
    short = statements(athlete, url)
    coach.post(reverse("correction-back", args=[Correction.objects.get().pk]))
    ground.programme(cast.athlete, weeks=4)
    send(coach, note, asked("cap", **CAP_85))
    assert statements(athlete, url) <= short
