"""The whole way of a fault: seen, made a change of the programme, trained without a network, filmed
again, and judged."""

from django.urls import reverse
from playwright.sync_api import Page, expect

from athletes.local_time import today_of
from programming.models import LoggedSet
from reviews.desk.claiming import claim
from reviews.models import Note
from reviews.replies.models import Outcome
from reviews.replies.services.publish_reply import publish_reply
from tests.browser.conftest import shot
from tests.browser.correction.pages import a_seen_fault
from tests.browser.reply.factories import make_clip
from tests.conftest import Cast
from tests.programming.corrections import ground
from tests.reviews.replies.rows import a_submission


def change_the_dose(page: Page, note: Note) -> int:
    """By keyboard alone, from the workbench to the change applied. Returns how many keys."""
    page.goto(reverse("workbench", args=[note.clip.submission_id]))
    expect(page.locator(".coming")).to_contain_text("Low-bar squat 3 × 3")
    page.keyboard.press("ArrowDown")  # the first note
    page.keyboard.press("g")
    expect(page.get_by_role("heading", name="Hips rise first: change")).to_be_visible()
    keys = [
        "ArrowDown",  # the note
        "g",
        "ArrowDown",  # from "cap" to "rebuild"
        "ArrowDown",  # to "change sets or reps"
        "Tab",
        "2",
    ]
    expect(page.locator("[name=kind]:checked")).to_be_focused()
    for key in keys[2:]:
        page.keyboard.press(key)
    expect(page.locator(".before-after .now").first).to_contain_text("2 × 3")
    expect(page.get_by_role("button", name="Apply 2 changes")).to_be_enabled()
    shot(page, "correction-loop-preview")
    page.keyboard.press("Enter")
    expect(page.locator(".applied")).to_contain_text("Low-bar squat: 2 sets")
    page.goto(reverse("workbench", args=[note.clip.submission_id]))
    expect(page.locator(".coming .did")).to_contain_text("Low-bar squat: 2 sets")
    shot(page, "correction-loop-workbench")
    return len(keys) + 1


def train_offline(page: Page) -> None:
    """Both sets that are left of it, with the network gone in between."""
    page.goto(reverse("training"))
    expect(page.locator("[data-opens]")).to_contain_text("opens without a network")
    expect(page.get_by_text("Changed by Tove")).to_be_visible()
    page.context.set_offline(True)
    for number in (1, 2):
        page.locator("set-form button[type=submit]").click()
        expect(page.locator(".sets > li")).to_have_count(number)
    expect(page.locator("[data-kept]")).to_contain_text("Kept on this phone: 2 sets")
    page.context.set_offline(False)
    expect(page.locator("[data-kept]")).to_contain_text("All sent", timeout=20_000)


def test_from_a_note_to_an_outcome(cast: Cast, open_page) -> None:
    today = today_of(cast.athlete)
    made = ground.programme(cast.athlete, starts_on=today, weeks=1)
    note = a_seen_fault(cast)
    Note.objects.filter(pk=note.pk).update(rank=1)
    question = note.clip.submission

    coach = open_page(cast.coach)
    assert change_the_dose(coach, note) <= 8, "a few key presses"
    publish_reply(coach=cast.coach, submission_id=question.pk)

    phone = open_page(cast.athlete, width=390, has_touch=True)
    phone.goto(reverse("submission", args=[question.pk]))
    expect(phone.get_by_role("heading", name="Changed in your programme")).to_be_visible()
    shot(phone, "correction-loop-reply")
    train_offline(phone)
    first = ground.squats(made)[0]
    assert list(LoggedSet.objects.values_list("prescription", flat=True)) == [first.pk] * 2

    phone.goto(reverse("why", args=[first.pk]))
    expect(phone.get_by_text("Hips rise first").first).to_be_visible()
    coach.goto(reverse("correction", args=[question.pk, note.pk]))
    expect(coach.get_by_role("button", name="End it from today")).to_be_visible()

    back = a_submission(cast.athlete, check_back_of=question)
    make_clip(back, movement=ground.movement())
    claim(submission=back, coach=cast.coach)
    coach.goto(reverse("workbench", args=[back.pk]))
    hips = coach.get_by_role("group", name="What became of it: Hips rise first")
    hips.get_by_role("button", name="Gone").click()
    expect(hips.get_by_role("button", name="Gone")).to_have_attribute("aria-pressed", "true")
    expect(coach.locator("save-state")).to_have_attribute("data-state", "saved")
    assert Outcome.objects.get().result == "gone"
    coach.goto(reverse("correction", args=[question.pk, note.pk]))
    expect(coach.locator(".applied")).to_contain_text("Gone at the check-back, Tove Lindqvist")
