"""A coach says in the workbench what became of each point; the athlete reads it."""

from django.urls import reverse
from playwright.sync_api import expect

from reviews.replies.models import Outcome
from tests.browser.conftest import shot
from tests.browser.reply.factories import make_answered_submission, make_clip
from tests.browser.reply.pages import page_of
from tests.reviews.replies.rows import a_submission


def test_what_became_of_each_point(cast, open_page) -> None:
    earlier = make_answered_submission(cast)
    back = a_submission(cast.athlete, check_back_of=earlier)
    make_clip(back, shows_fault=True)
    bench = open_page(cast.coach, width=1440)
    bench.goto(reverse("workbench", args=[back.pk]))
    hips = bench.get_by_role("group", name="What became of it: Hips rise first")
    expect(bench.get_by_text("Proposed: can't tell. No rep is judged yet.")).to_be_visible()
    bench.get_by_title("To standard", exact=True).first.click()
    expect(
        bench.get_by_text("Proposed: gone. The one judged rep does not show it.")
    ).to_be_visible()
    shot(bench, "check-back-bench")
    expect(bench.get_by_role("button", name="Send reply")).to_be_disabled()
    expect(bench.locator("#send-why")).to_have_text(
        "Put a note into the reply, or write an opening."
    )
    bench.get_by_label("Opening words").fill("Much better.")
    expect(bench.locator("#send-why")).to_have_text(
        "Say first what became of 2 earlier points. "
        "Where the clip does not show one, choose “Can't tell”."
    )
    hips.get_by_role("button", name="Gone").focus()
    bench.keyboard.press("Enter")
    expect(hips.get_by_role("button", name="Gone")).to_have_attribute("aria-pressed", "true")
    expect(bench.locator("save-state")).to_have_attribute("data-state", "saved")
    assert Outcome.objects.get().result == "gone"
    expect(bench.locator("#send-why")).to_contain_text("Say first what became of “One flat print")
    words = bench.get_by_role("group", name="What became of it: One flat print on the floor.")
    words.get_by_role("button", name="Can't tell").click()
    expect(bench.get_by_role("button", name="Send reply")).to_be_enabled()
    bench.get_by_role("button", name="Send reply").click()
    expect(bench.get_by_text("Sent to Mira Solheim.")).to_be_visible()
    assert [row.result for row in Outcome.objects.all()] == ["gone", "cannot-tell"]
    phone = open_page(cast.athlete, width=390)
    phone.goto(page_of(back))
    expect(phone.get_by_text("Hips rise first: it is gone.")).to_be_visible()
    shot(phone, "check-back-phone")


def test_a_changed_mind_is_undone_and_outlives_the_network_and_the_page(cast, open_page) -> None:
    back = a_submission(cast.athlete, check_back_of=make_answered_submission(cast))
    make_clip(back, shows_fault=True)
    bench = open_page(cast.coach, width=1440)
    address = reverse("workbench", args=[back.pk])
    bench.goto(address)
    hips = bench.get_by_role("group", name="What became of it: Hips rise first")

    def is_said(result: str) -> None:
        chosen = hips.get_by_role("button", name=result)
        expect(chosen).to_have_attribute("aria-pressed", "true")

    for result in ("Gone", "Better"):
        hips.get_by_role("button", name=result).click()
        is_said(result)
        expect(bench.locator("save-state")).to_have_attribute("data-state", "saved")
    bench.keyboard.press("Control+z")
    is_said("Gone")
    expect(bench.locator("save-state")).to_have_attribute("data-state", "saved")
    assert [row.result for row in Outcome.objects.all()] == ["gone", "better", "gone"]
    bench.context.set_offline(True)
    hips.get_by_role("button", name="Worse").click()
    is_said("Worse")
    expect(bench.locator("save-state")).to_contain_text("network is gone")
    bench.context.set_offline(False)
    bench.goto(address)
    is_said("Worse")
    expect(bench.locator("save-state")).to_have_attribute("data-state", "saved")
    assert Outcome.objects.last().result == "worse"
