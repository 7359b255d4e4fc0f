"""The grid in real Chromium: typed, refused, undone, copied, without a network, on a phone."""

import re

from playwright.sync_api import Page, expect

from programming.plans.models import Programme
from tests.browser.programme.pages import running
from tests.conftest import Cast
from tests.programming.plans.build import at, line, revision

BENCH, BY_EFFORT = 1, 2  # lines of the first session, from above


def opened(open_page, cast: Cast, **options: object) -> tuple[Page, Programme]:
    programme = running(cast)
    page = open_page(cast.coach, **options)
    page.goto(f"/people/{cast.athlete.pk}/programme/")
    return page, programme


def cell(page: Page, row: int, week: int):
    return page.locator("tr[data-row]").nth(row).locator(f"td.cell[data-week='{week}']")


def state(page: Page, words: str) -> None:
    expect(page.locator("[data-state]")).to_have_text(words)


def test_edits_with_the_keyboard_alone(open_page, cast: Cast) -> None:
    page, programme = opened(open_page, cast)
    cell(page, 0, 3).focus()
    page.keyboard.type("3x3 @ 90%")
    page.keyboard.press("Tab")
    expect(cell(page, 0, 3)).to_contain_text("140")  # 90% of 155 is 139.5
    expect(cell(page, 0, 4)).to_be_focused()
    page.keyboard.press("ArrowLeft")
    expect(page.locator("p[data-how]")).to_contain_text("90% of the technical max")
    expect(page.locator("[data-loading]")).to_contain_text("Each side 25, 25, 10")
    page.keyboard.press("Enter")
    page.keyboard.type("5x5 100kg")
    page.keyboard.press("Escape")
    expect(cell(page, 0, 3)).to_contain_text("140")
    page.keyboard.press("Control+z")
    expect(cell(page, 0, 3)).to_contain_text("80%")
    page.keyboard.press("Control+Shift+z")
    expect(cell(page, 0, 3)).to_contain_text("90%")
    state(page, "Saved")
    assert at(programme, 3, 1).prescriptions.get(position=1).target == 90


def test_what_cannot_be_read_stays_with_a_sentence(open_page, cast: Cast) -> None:
    page, programme = opened(open_page, cast)
    cell(page, 0, 3).focus()
    page.keyboard.type("heavy")
    page.keyboard.press("Enter")
    wrong = cell(page, 0, 3)
    expect(wrong).to_contain_text("Begin with sets x reps")
    cell(page, 0, 4).focus()
    page.keyboard.type("5x5 90kg")
    page.keyboard.press("Enter")
    expect(cell(page, 0, 4)).to_contain_text("90")
    state(page, "Saved")
    expect(wrong).to_contain_text("heavy")  # whatever became of the others
    wrong.focus()
    page.keyboard.press("Enter")
    expect(page.locator(".cell-field")).to_have_value("heavy")
    page.keyboard.type("4x4 110kg")
    page.keyboard.press("Enter")
    expect(cell(page, 0, 3)).to_contain_text("110")
    state(page, "Saved")
    expect(page.locator(".wrong")).to_have_count(0)
    assert at(programme, 3, 1).prescriptions.get(position=1).target == 110


def test_past_and_trained_cells_take_no_typing(open_page, cast: Cast) -> None:
    page, programme = opened(open_page, cast)
    trained = cell(page, BENCH, 2)
    trained.focus()
    page.keyboard.type("9x9")
    expect(page.locator(".cell-field")).to_have_count(0)
    expect(page.locator("[data-state]")).to_contain_text("Sets of it are logged")
    assert revision(programme) == 5


def test_a_block_is_copied_pasted_and_undone_as_one(open_page, cast: Cast) -> None:
    page, _ = opened(open_page, cast, permissions=["clipboard-read", "clipboard-write"])
    cell(page, 0, 3).focus()
    page.keyboard.press("Shift+ArrowDown")
    expect(page.locator("td.in")).to_have_count(2)
    page.keyboard.press("Control+c")
    state(page, "Copied.")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Control+v")
    expect(cell(page, BENCH, 4)).to_contain_text("80%")
    expect(cell(page, BY_EFFORT, 4)).to_contain_text("90")
    state(page, "Saved")
    page.keyboard.press("Control+z")
    expect(cell(page, BENCH, 4)).not_to_contain_text("80%")
    expect(cell(page, BY_EFFORT, 4)).to_contain_text("RPE 8")


def test_nothing_typed_is_lost_without_a_network(open_page, cast: Cast) -> None:
    page, programme = opened(open_page, cast)
    page.context.set_offline(True)
    cell(page, 0, 3).focus()
    page.keyboard.type("2x2 130kg")
    page.keyboard.press("Enter")
    expect(page.locator("[data-state]")).to_contain_text("The network is gone")
    page.context.set_offline(False)
    state(page, "Saved")
    assert at(programme, 3, 1).prescriptions.get(position=1).target == 130


def test_a_change_elsewhere_is_told_and_what_was_typed_is_kept(open_page, cast: Cast) -> None:
    page, programme = opened(open_page, cast)
    Programme.objects.filter(pk=programme.pk).update(revision=99)
    cell(page, 0, 3).focus()
    page.keyboard.type("2x2 130kg")
    page.keyboard.press("Enter")
    expect(page.locator("[data-state]")).to_contain_text("changed elsewhere")
    page.get_by_role("link", name="Load it again").click()
    kept = cell(page, 0, 3)
    expect(kept).to_contain_text("2x2 130kg")
    kept.focus()
    page.keyboard.press("Enter")
    page.keyboard.press("Enter")
    state(page, "Saved")
    expect(cell(page, 0, 3)).to_contain_text("130")


def test_what_a_closed_page_could_not_save_waits_for_a_word(open_page, cast: Cast) -> None:
    page, programme = opened(open_page, cast)
    page.route("**/cells", lambda route: route.abort())
    cell(page, 0, 3).focus()
    page.keyboard.type("2x2 130kg")
    page.keyboard.press("Enter")
    cell(page, 0, 3).focus()
    page.locator("input[data-note]").fill("Belt on")
    cell(page, 0, 4).focus()
    page.keyboard.type("3x3")  # and left in the middle of it
    page.reload()
    page.unroute("**/cells")
    expect(cell(page, 0, 3)).to_contain_text("with the note “Belt on")
    expect(cell(page, 0, 4)).to_contain_text("3x3You typed this earlier and it is not saved")

    cell(page, BENCH, 4).focus()
    page.keyboard.type("5x5 90kg")
    page.keyboard.press("Enter")
    state(page, "Saved")
    page.reload()  # the others wait on
    cell(page, 0, 3).focus()
    page.keyboard.press("Enter")
    page.keyboard.press("Enter")
    state(page, "Saved")
    expect(page.locator(".wrong")).to_have_count(1)
    cell(page, 0, 4).focus()
    page.keyboard.press("Escape")
    state(page, "Saved")
    page.reload()
    expect(page.locator(".wrong")).to_have_count(0)
    saved = at(programme, 3, 1).prescriptions.get(position=1)
    assert (saved.target, saved.note) == (130, "Belt on")


def test_what_arrives_while_the_page_is_left_is_not_told_as_unsaved(open_page, cast: Cast) -> None:
    page, _ = opened(open_page, cast)
    page.evaluate("dispatchEvent(new Event('beforeunload'))")  # a file was fetched
    cell(page, 0, 3).focus()
    page.keyboard.type("2x2 130kg")
    page.keyboard.press("Enter")
    page.evaluate("dispatchEvent(new Event('beforeunload'))")
    state(page, "Saved")
    kept = "Object.entries(localStorage).filter(([key]) => key.startsWith('cells:')).length"
    assert page.evaluate(kept) == 1, "a page written before it arrived would find it here"
    page.reload()
    expect(cell(page, 0, 3)).to_contain_text("130")
    expect(page.locator(".wrong")).to_have_count(0)
    assert page.evaluate(kept) == 0


def type_without_a_network(page: Page, week: int, text: str) -> None:
    cell(page, 0, week).focus()
    page.keyboard.type(text)
    page.keyboard.press("Enter")
    expect(page.locator("[data-state]")).to_contain_text("The network is gone")


def test_two_tabs_of_one_programme_keep_what_each_of_them_could_not_save(
    open_page, cast: Cast
) -> None:
    first, programme = opened(open_page, cast)
    second = first.context.new_page()
    second.goto(first.url)
    first.context.route("**/cells", lambda route: route.abort())
    type_without_a_network(first, 3, "2x2 130kg")
    type_without_a_network(second, 4, "3x3 120kg")
    second.reload()
    expect(cell(second, 0, 4)).to_contain_text("3x3 120kgYou typed this earlier")
    expect(cell(second, 0, 3)).not_to_contain_text("2x2 130kg")  # the first tab's own to send
    first.close()
    second.reload()
    expect(cell(second, 0, 3)).to_contain_text("2x2 130kgYou typed this earlier")
    expect(cell(second, 0, 4)).to_contain_text("3x3 120kgYou typed this earlier")
    second.context.unroute("**/cells")
    for week in (3, 4):
        cell(second, 0, week).focus()
        second.keyboard.press("Enter")
        second.keyboard.press("Enter")
    expect(second.locator(".wrong")).to_have_count(0)
    state(second, "Saved")
    saved = [at(programme, week, 1).prescriptions.get(position=1).target for week in (3, 4)]
    assert saved == [130, 120]
    assert second.evaluate("localStorage.length") == 0


def test_what_a_closed_page_could_not_save_is_kept_or_dropped_by_touch(
    open_page, cast: Cast
) -> None:
    page, programme = opened(open_page, cast, width=390, has_touch=True)
    was = at(programme, 3, 1).prescriptions.get(position=1).target
    page.route("**/cells", lambda route: route.abort())
    for row, text in ((0, "2x2 130kg"), (BY_EFFORT, "3x3 120kg")):
        page.get_by_label("Week", exact=True).select_option("3")
        cell(page, row, 3).tap()
        expect(page.get_by_role("button", name="Drop it")).to_be_hidden()
        field = page.get_by_label("Sets x reps and target")
        field.fill(text)
        field.press("Tab")
    page.reload()
    page.unroute("**/cells")
    page.get_by_label("Week", exact=True).select_option("3")
    expect(page.locator(".wrong")).to_have_count(2)
    cell(page, 0, 3).tap()
    page.get_by_role("button", name="Drop it").tap()
    expect(page.locator(".wrong")).to_have_count(1)
    expect(page.get_by_role("button", name="Drop it")).to_be_hidden()
    state(page, "Saved")
    cell(page, BY_EFFORT, 3).tap()
    page.get_by_role("button", name="Keep it").tap()
    expect(page.locator(".wrong")).to_have_count(0)
    state(page, "Saved")
    rows = at(programme, 3, 1).prescriptions
    assert rows.get(position=1).target == was
    assert rows.get(position=BY_EFFORT + 1).target == 120
    assert page.evaluate("localStorage.length") == 0


def test_a_correction_is_named_in_its_cell(open_page, cast: Cast) -> None:
    page, programme = opened(open_page, cast)
    expect(cell(page, BENCH, 3)).to_contain_text("not above 90% of the technical max")
    cell(page, BENCH, 3).focus()
    expect(page.get_by_role("link", name="Why is this here?")).to_be_visible()
    page.keyboard.press("Delete")
    expect(cell(page, BENCH, 3)).to_contain_text("Take the correction back first")
    assert line(programme, at(programme, 3, 1).prescriptions.get(position=2).row, 3)


def test_a_week_is_dashed_until_it_is_placed(open_page, cast: Cast) -> None:
    page, programme = opened(open_page, cast)
    cell(page, 0, 3).click()
    page.locator("summary", has_text="This week").click()
    page.get_by_role("button", name="Show the copy").click()
    expect(page.locator("th.copied")).to_contain_text("not placed yet")
    page.get_by_role("button", name="Place the week").click()
    expect(page.locator("th.copied")).to_have_count(0)
    expect(cell(page, 0, 5)).to_contain_text("80%")
    programme.refresh_from_db()
    assert programme.weeks == 5


def test_a_week_at_a_time_on_a_phone(open_page, cast: Cast) -> None:
    page, programme = opened(open_page, cast, width=390)
    expect(cell(page, 0, 2)).to_be_visible()
    expect(cell(page, 0, 3)).to_be_hidden()
    page.get_by_label("Week", exact=True).select_option("3")
    expect(cell(page, 0, 3)).to_be_visible()
    cell(page, 0, 3).click()
    field = page.get_by_label("Sets x reps and target")
    field.fill("3x2 125kg")
    field.press("Tab")
    expect(cell(page, 0, 3)).to_contain_text("125")
    state(page, "Saved")
    assert at(programme, 3, 1).prescriptions.get(position=1).target == 125


def test_the_sheet_prints_one_page_a_week(open_page, cast: Cast) -> None:
    programme = running(cast)
    page = open_page(cast.athlete)
    for query, weeks in (("", 3), ("?all", 4)):  # the first week is over
        page.goto(f"/programmes/{programme.pk}/sheet/{query}")
        pages = re.findall(rb"/Type\s*/Page\b", page.pdf(format="A4"))
        assert len(pages) == weeks
