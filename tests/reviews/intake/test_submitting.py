"""From a draft to the queue, through the API that the page uses."""

from decimal import Decimal
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from athletes.models import PainReport, User
from athletes.permissions import pain_reports_visible_to
from programming.models import Movement
from programming.movements.families import Family
from reviews.intake import clips, submitting
from reviews.intake.models import Clip, RoundUpConsent, State, Submission, Urgency

JSON = "application/json"


@pytest.fixture
def page(cast, client: Client) -> Client:
    client.force_login(cast.athlete)
    return client


@pytest.fixture
def draft(cast) -> Submission:
    return submitting.open_draft(athlete=cast.athlete)


@pytest.fixture
def clip(draft: Submission) -> Clip:
    return clips.add_clip(submission=draft, unit="kg")


def save(page: Client, thing: Submission | Clip, **fields: Any) -> Any:
    name = "api-clip" if isinstance(thing, Clip) else "api-submission"
    return page.patch(reverse(name, args=[thing.pk]), fields, content_type=JSON)


def send(page: Client, draft: Submission) -> Any:
    return page.post(reverse("api-send", args=[draft.pk]))


def test_submit_opens_the_newest_draft_or_makes_one(page: Client, cast) -> None:
    first = page.get("/submit/")
    draft = Submission.objects.get()
    assert first["Location"] == f"/submit/{draft.pk}/"
    assert draft.club == cast.athlete.club
    assert page.get("/submit/")["Location"] == first["Location"]
    assert page.get(first["Location"]).status_code == 200


def test_every_field_saves_alone(page: Client, draft: Submission, clip: Clip) -> None:
    movement = Movement.objects.filter(club=None, family=Family.SQUAT).first()
    save(page, draft, question="Why do my heels come up?")
    save(page, draft, tried="Wider stance")
    save(page, draft, goal="total")
    save(page, draft, equipment=["shoes", "belt"])
    save(page, clip, movement=movement.pk)
    save(page, clip, load={"value": "102,5", "unit": "kg"})
    save(page, clip, reps="3")
    save(page, clip, rpe="8.5")
    save(page, clip, view="45")
    save(page, clip, shows_fault=True)
    draft.refresh_from_db()
    clip.refresh_from_db()
    assert (draft.question, draft.tried) == ("Why do my heels come up?", "Wider stance")
    assert (draft.goal, draft.equipment) == ("total", ["belt", "shoes"])
    assert (clip.movement, clip.load_kg, clip.reps) == (movement, Decimal("102.5"), 3)
    assert (clip.rpe, clip.view, clip.shows_fault) == (Decimal("8.5"), "45", True)


def test_pounds_are_stored_as_kilograms_and_shown_as_typed(page: Client, clip: Clip) -> None:
    save(page, clip, load={"value": "225", "unit": "lb"})
    clip.refresh_from_db()
    # 225 lb x 0.45359237 kg, exact by the international agreement of 1959
    assert clip.load_kg == Decimal("102.058")
    told = page.get(reverse("api-clip", args=[clip.pk])).json()
    assert told["load"] == {"value": "225", "unit": "lb"}


@pytest.mark.parametrize(
    ("field", "value", "sentence"),
    [
        ("rpe", "11", "RPE goes from 1 to 10. Ten means no rep was left."),
        ("rpe", "0", "RPE goes from 1 to 10. Ten means no rep was left."),
        ("rpe", "hard", "RPE goes from 1 to 10. Ten means no rep was left."),
        ("rpe", "NaN", "RPE goes from 1 to 10. Ten means no rep was left."),
        ("rpe", "8.3", "RPE goes in halves: 8, 8.5, 9."),
        ("reps", "0", "Reps is a whole number from 1 to 50."),
        ("reps", "2.5", "Reps is a whole number from 1 to 50."),
        ("reps", "1e9", "Reps is a whole number from 1 to 50."),
        ("reps_in_reserve", "11", "Reps in reserve goes from 0 to 10. Zero means no rep was left."),
        ("load", {"value": "heavy", "unit": "kg"}, "Load is a number, like 102.5."),
        ("load", {"value": "-20", "unit": "kg"}, "Load is a number, like 102.5."),
        ("load", {"value": "1e99999", "unit": "kg"}, "more than any bar holds"),
        ("load", {"value": "1501", "unit": "kg"}, "more than any bar holds"),
    ],
)
def test_what_cannot_be_right_is_said_and_not_stored(
    page: Client, clip: Clip, field: str, value: Any, sentence: str
) -> None:
    response = save(page, clip, **{field: value})
    assert response.status_code == 400
    assert sentence in response.json()["detail"]
    assert field in response.json()["errors"]
    before = clip.load_kg, clip.reps, clip.rpe, clip.reps_in_reserve
    clip.refresh_from_db()
    assert (clip.load_kg, clip.reps, clip.rpe, clip.reps_in_reserve) == before


@pytest.mark.parametrize("field", ["rpe", "reps", "reps_in_reserve"])
def test_an_emptied_field_is_not_said(page: Client, clip: Clip, field: str) -> None:
    save(page, clip, **{field: "8"})
    assert save(page, clip, **{field: ""}).status_code == 204
    assert getattr(Clip.objects.get(), field) is None


def test_another_clubs_movement_does_not_exist(page: Client, clip: Clip, cast) -> None:
    theirs = Movement.objects.create(club=cast.stranger.club, family=Family.SQUAT, name="Box squat")
    assert save(page, clip, movement=theirs.pk).status_code == 400


def test_the_next_clip_is_told_like_the_one_before(page: Client, draft, clip: Clip) -> None:
    movement = Movement.objects.first()
    save(
        page, clip, movement=movement.pk, load={"value": "300", "unit": "lb"}, reps="3", view="side"
    )
    response = page.post(reverse("api-clips", args=[draft.pk]))
    assert response.status_code == 201
    card = response.json()
    assert (card["position"], card["movement"], card["view"]) == (2, movement.pk, "side")
    assert card["load"] == {"value": "", "unit": "lb"}
    assert card["reps"] is None


def test_sending_needs_a_question_and_a_clip(page: Client, draft: Submission) -> None:
    response = send(page, draft)
    assert response.status_code == 400
    assert response.json()["errors"] == {
        "question": ["Write your question: what do you want to know?"],
        "clips": ["Add at least one clip. Your coach answers what the clip shows."],
    }
    draft.refresh_from_db()
    assert draft.state == State.DRAFT


def test_a_clip_that_will_not_play_is_not_enough(page: Client, draft, clip: Clip) -> None:
    save(page, draft, question="Why?")
    Clip.objects.update(state="failed", reason="No picture in it.")
    assert "clips" in send(page, draft).json()["errors"]


def test_it_can_be_sent_while_the_clip_still_arrives(page: Client, draft, clip: Clip) -> None:
    save(page, draft, question="Why?")
    response = send(page, draft)
    assert response.json()["url"] == reverse("submission", args=[draft.pk])
    draft.refresh_from_db()
    assert (draft.state, clip.state) == (State.WAITING, "receiving")
    assert draft.sent_at is not None
    sent_at = draft.sent_at
    assert send(page, draft).status_code == 200  # a second tap changes nothing
    draft.refresh_from_db()
    assert draft.sent_at == sent_at


def test_what_was_sent_no_longer_changes(page: Client, draft, clip: Clip) -> None:
    save(page, draft, question="Why?")
    send(page, draft)
    for response in (
        save(page, draft, question="Another"),
        save(page, clip, reps="5"),
        page.delete(reverse("api-clip", args=[clip.pk])),
    ):
        assert response.status_code == 409
        assert "was sent meanwhile" in response.json()["detail"]
    assert page.post(reverse("api-clips", args=[draft.pk])).status_code == 404
    draft.refresh_from_db()
    assert draft.question == "Why?"


PAIN = {"where": "Left knee", "score": "3", "since": "Monday", "signs": []}


def test_pain_in_a_draft_is_told_to_nobody_until_it_is_sent(
    page: Client, cast, draft, clip
) -> None:
    save(page, draft, question="Why?", pain={**PAIN, "signs": []})
    assert not pain_reports_visible_to(cast.coach).exists()
    assert pain_reports_visible_to(cast.athlete).exists()
    assert send(page, draft).status_code == 200
    assert pain_reports_visible_to(cast.coach).exists()


def test_pain_comes_before_form_and_a_warning_sign_before_pain(page: Client, draft) -> None:
    for signs, urgency in ([], Urgency.PAIN), (["night", "saddle"], Urgency.WARNING_SIGN):
        assert save(page, draft, pain={**PAIN, "signs": signs}).status_code == 200
        draft.refresh_from_db()
        assert draft.urgency == urgency
    assert draft.pain.signs == ["saddle", "night"]
    assert PainReport.objects.count() == 1
    save(page, draft, pain=None)
    draft.refresh_from_db()
    assert (draft.pain, draft.urgency) == (None, Urgency.FORM)
    assert not PainReport.objects.exists()


def test_a_warning_sign_never_blocks_asking(page: Client, draft, clip: Clip) -> None:
    save(page, draft, question="Why?", pain={**PAIN, "signs": ["bladder", "chest"]})
    assert send(page, draft).status_code == 200
    draft.refresh_from_db()
    assert (draft.state, draft.urgency) == (State.WAITING, Urgency.WARNING_SIGN)


@pytest.mark.parametrize(
    ("part", "value", "sentence"),
    [
        ("where", "", "Say where it hurts."),
        ("score", "11", "Pain goes from 0 to 10."),
        ("score", "", "Pain goes from 0 to 10."),
    ],
)
def test_pain_is_asked_for_plainly(page: Client, draft, part: str, value: str, sentence) -> None:
    response = save(page, draft, pain={**PAIN, part: value})
    assert response.status_code == 400
    assert response.json()["errors"]["pain"][part] == [sentence]


def test_round_ups_are_off_until_somebody_says_yes_and_can_be_taken_back(
    page: Client, draft, clip: Clip
) -> None:
    assert not submitting.round_up_allowed(draft)
    save(page, draft, round_up=False)
    assert not RoundUpConsent.objects.exists()
    save(page, draft, round_up=True)
    save(page, draft, round_up=True)
    save(page, draft, question="Why?")
    send(page, draft)
    assert submitting.round_up_allowed(draft)
    response = page.post(reverse("consent", args=[draft.pk]), {"given": "no"})
    assert response["Location"] == reverse("submission", args=[draft.pk])
    assert not submitting.round_up_allowed(draft)
    assert [row.given for row in RoundUpConsent.objects.all()] == [False, True]
    with pytest.raises(ValueError, match="never rewritten"):
        RoundUpConsent.objects.first().save()


def test_a_check_back_is_a_draft_of_its_own(page: Client, draft, clip: Clip, cast) -> None:
    lift = Movement.objects.filter(club=None, family=Family.SQUAT).first()
    Clip.objects.filter(pk=clip.pk).update(movement=lift, view="side", reps=3)
    save(page, draft, question="Why?")
    send(page, draft)
    response = page.get(f"/submit/?check-back={draft.pk}")
    back = Submission.objects.get(check_back_of=draft)
    assert response["Location"] == f"/submit/{back.pk}/"
    clip.refresh_from_db()
    fresh = clips.add_clip(submission=back, unit="kg")
    assert (fresh.movement, fresh.view, fresh.reps) == (clip.movement, "side", None)
    theirs = submitting.open_draft(athlete=cast.other_athlete)
    for nothing in (theirs.pk, back.pk, "no-id"):
        assert page.get(f"/submit/?check-back={nothing}").status_code == 404


def test_a_failed_clip_is_sent_again_in_its_place(page: Client, draft, clip: Clip) -> None:
    save(page, clip, reps="3", view="side")
    Clip.objects.update(state="failed", reason="Cut off half-way.")
    fresh = page.post(reverse("api-clip-replace", args=[clip.pk])).json()
    assert (fresh["state"], fresh["position"], fresh["reps"]) == ("receiving", 1, 3)
    assert [str(one.pk) for one in draft.clips.all()] == [fresh["id"]]
    Clip.objects.update(state="processing")
    assert page.post(reverse("api-clip-replace", args=[fresh["id"]])).status_code == 409


def test_a_draft_is_nobody_elses(client: Client, draft, clip: Clip, cast) -> None:
    addresses = [
        ("get", reverse("submit-draft", args=[draft.pk])),
        ("patch", reverse("api-submission", args=[draft.pk])),
        ("post", reverse("api-send", args=[draft.pk])),
        ("post", reverse("api-clips", args=[draft.pk])),
        ("get", reverse("api-clip", args=[clip.pk])),
        ("patch", reverse("api-clip", args=[clip.pk])),
        ("delete", reverse("api-clip", args=[clip.pk])),
        ("post", reverse("api-clip-replace", args=[clip.pk])),
        ("post", reverse("consent", args=[draft.pk])),
    ]
    others: list[User] = [person for person in cast if person != cast.athlete]
    for person in others:
        client.force_login(person)
        for method, address in addresses:
            response = getattr(client, method)(address, content_type=JSON)
            assert response.status_code == 404, (person, method, address)


def test_only_athletes_ask(client: Client, cast) -> None:
    for person in (cast.coach, cast.owner):
        client.force_login(person)
        assert client.get("/submit/").status_code == 404


def test_a_sent_question_whose_clips_are_in_has_its_own_page(page: Client, draft, clip) -> None:
    save(page, draft, question="Why?")
    send(page, draft)
    assert page.get(reverse("submit-draft", args=[draft.pk])).status_code == 200
    Clip.objects.update(state="processing")
    response = page.get(reverse("submit-draft", args=[draft.pk]))
    assert response["Location"] == reverse("submission", args=[draft.pk])
