"""A lifter reads a reply on a phone: the clip stops where the coach pointed, to the frame.

The check stands outside the player: every picture of the clip carries its number in its own pixels
(tests/browser/player/clips.py), read back from what the browser painted.
"""

from playwright.sync_api import Page, expect

from reviews.replies.models import Message, ReplyVersion
from tests.browser.player.clips import BITS, SQUARE
from tests.browser.reply.factories import (
    FIRST_STOP,
    SECOND_STOP,
    make_answered_submission,
    make_clip,
    make_reply,
    make_reply_in_words,
)
from tests.browser.reply.pages import page_of
from tests.browser.waiting import wait_until
from tests.reviews.replies.rows import a_submission

SEEN = f"""() => {{
  const pen = new OffscreenCanvas({SQUARE * BITS}, {SQUARE}).getContext("2d");
  const video = document.querySelector("exact-player").video;
  pen.drawImage(video, 0, 0, {SQUARE * BITS}, {SQUARE}, 0, 0, {SQUARE * BITS}, {SQUARE});
  let number = 0;
  for (let bit = 0; bit < {BITS}; bit += 1) {{
    if (pen.getImageData(bit * {SQUARE} + {SQUARE} / 2, {SQUARE} / 2, 1, 1).data[0] > 127)
      number |= 1 << bit;
  }}
  return number;
}}"""


def stands_at(page: Page, frame: int, said: str) -> None:
    """The caption names the point, the player the frame, and the picture itself agrees."""
    expect(page.locator("[data-caption]")).to_contain_text(said)
    wait_until(
        page,
        """frame => { const player = document.querySelector("exact-player");
        return player.table && player.paused && player.currentFrame === frame; }""",
        frame,
    )
    assert page.evaluate(SEEN) == frame


def test_the_clip_stops_at_every_focus_point(cast, open_page) -> None:
    page = open_page(cast.athlete, width=390)
    page.goto(page_of(make_answered_submission(cast)))
    stands_at(page, FIRST_STOP, "1. Hips rise first")
    page.evaluate("document.querySelector('exact-player').goTo(0)")
    wait_until(page, "document.querySelector('exact-player').currentFrame === 0")
    page.get_by_role("button", name="Play from here").click()
    stands_at(page, SECOND_STOP, "2. What to look at")
    page.get_by_role("button", name="Play from here").click()
    stands_at(page, FIRST_STOP, "1. Hips rise first")


def test_a_phone_too_busy_to_see_the_clip_pass_stops_it_all_the_same(cast, open_page) -> None:
    """The clip plays on while the page's script stands still, here until it has ended."""
    page = open_page(cast.athlete, width=390)
    page.goto(page_of(make_answered_submission(cast)))
    stands_at(page, FIRST_STOP, "1. Hips rise first")
    page.evaluate("document.querySelector('exact-player').goTo(100)")
    wait_until(page, "document.querySelector('exact-player').currentFrame === 100")
    page.evaluate("""async () => {
        const { player } = document.querySelector("reply-player");
        await player.goTo(0);
        await player.play();
        const ended = performance.now() + 1000 * player.table.seconds + 500;
        while (performance.now() < ended);
    }""")
    stands_at(page, SECOND_STOP, "2. What to look at")


def test_show_me_brings_the_clip_into_view_at_that_frame(cast, open_page) -> None:
    page = open_page(cast.athlete, width=390, reduced_motion="reduce")
    page.goto(page_of(make_answered_submission(cast)))
    stands_at(page, FIRST_STOP, "1.")
    page.get_by_role("button", name="Show me point 2").click()
    stands_at(page, SECOND_STOP, "2.")
    expect(page.locator("exact-player")).to_be_in_viewport(ratio=0.9)
    page.get_by_role("button", name="Show me: Grip a thumb wider").click()
    wait_until(page, "document.querySelector('exact-player').currentFrame === 10")
    assert page.evaluate(SEEN) == 10
    page.get_by_role("button", name="Point 2: What to look at").click()
    stands_at(page, SECOND_STOP, "2.")


def test_a_point_on_another_clip_changes_the_clip(cast, open_page) -> None:
    submission = a_submission(cast.athlete)
    make_clip(submission, name="constant", view="front")
    make_reply(cast, make_clip(submission, shows_fault=True))
    page = open_page(cast.athlete, width=390)
    page.goto(page_of(submission))
    stands_at(page, FIRST_STOP, "1.")
    page.get_by_role("button", name="Clip 1,").click()
    expect(page.locator("[data-caption]")).to_contain_text("No stop on this clip")
    page.get_by_role("button", name="Show me point 1").click()
    stands_at(page, FIRST_STOP, "1.")


# How far each edge of the picture lies from the stage's own, in whole pixels.
OFF_CENTRE = """() => {
  const { picture } = document.querySelector("exact-player");
  const ours = picture.getBoundingClientRect();
  const stage = picture.closest(".stage").getBoundingClientRect();
  return ["left", "right", "top", "bottom"].map((edge) => Math.round(ours[edge] - stage[edge]));
}"""
WHOLE = "document.querySelector('exact-player').video.src.startsWith('blob:')"


def test_a_portrait_clip_fills_its_stage_before_it_is_played_and_after_each_change(
    cast, open_page
) -> None:
    """The moment at which the whole file has come is when a still of it lies over the video."""
    submission = a_submission(cast.athlete)
    make_clip(submission, name="constant", view="front")
    make_reply(cast, make_clip(submission, shows_fault=True))
    page = open_page(cast.athlete, width=390)
    page.goto(page_of(submission))
    for button in (None, "Clip 1,", "Clip 2,"):
        if button:
            page.get_by_role("button", name=button).click()
        wait_until(page, WHOLE)
        assert page.evaluate("document.querySelector('exact-player').picture.tagName") == "CANVAS"
        assert page.evaluate(OFF_CENTRE) == [0, 0, 0, 0]


def test_watching_a_clip_that_was_sent_opens_it_in_the_player(cast, open_page) -> None:
    submission = a_submission(cast.athlete)
    make_clip(submission)
    page = open_page(cast.athlete, width=390)
    page.goto(page_of(submission))
    page.get_by_role("link", name="Watch it").click()
    at = page.locator("player-controls .at")
    expect(at).to_contain_text("frame 0 of 119")
    page.get_by_role("button", name="On one frame").click()
    expect(at).to_contain_text("frame 1 of 119")
    assert page.evaluate(SEEN) == 1
    page.get_by_role("button", name="Play").click()
    wait_until(page, "document.querySelector('exact-player').currentFrame > 20")
    page.get_by_role("button", name="Pause").click()
    page.get_by_role("link", name="Back to the question").click()
    expect(page.get_by_role("heading", name="You asked")).to_be_visible()


def test_with_the_keyboard_alone(cast, open_page) -> None:
    page = open_page(cast.athlete, width=1440)
    page.goto(page_of(make_answered_submission(cast)))
    stands_at(page, FIRST_STOP, "1.")
    page.get_by_role("button", name="Show me point 2").focus()
    page.keyboard.press("Enter")
    stands_at(page, SECOND_STOP, "2.")
    page.get_by_text("Ask back").focus()
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    page.keyboard.type("Heels up?")
    assert page.get_by_label("What is not clear yet?").input_value() == "Heels up?"


def test_understood_then_an_update_is_unread_again(cast, open_page) -> None:
    submission = make_answered_submission(cast)
    page = open_page(cast.athlete, width=390)
    page.goto("/today/")
    expect(page.get_by_role("heading", level=1)).to_have_text("A reply for you")
    page.get_by_role("link", name="Read the reply").click()
    page.get_by_role("button", name="Understood").click()
    expect(page.get_by_text("You understood this on")).to_be_visible()
    assert ReplyVersion.objects.get().understood_at is not None
    make_reply_in_words(cast, submission)
    page.goto("/today/")
    expect(page.get_by_text("Updated by Tove Lindqvist")).to_be_visible()


def test_asking_back_reaches_the_coach_and_comes_back(cast, open_page) -> None:
    submission = make_answered_submission(cast)
    page = open_page(cast.athlete, width=390)
    page.goto(page_of(submission))
    page.get_by_text("Ask back").click()
    page.get_by_label("What is not clear yet?").fill("Does the pause count?")
    page.get_by_role("button", name="Send", exact=True).click()
    expect(page.get_by_text("Sent. The answer comes below")).to_be_visible()
    coach = open_page(cast.coach, width=1440)
    coach.goto(page_of(submission))
    expect(coach.get_by_text("Does the pause count?")).to_be_visible()
    coach.get_by_text("Write to Mira").click()
    coach.get_by_label("Your words").fill("Yes, it does.")
    coach.get_by_role("button", name="Send", exact=True).click()
    page.reload()
    expect(page.get_by_text("Yes, it does.")).to_be_visible()
    assert Message.objects.count() == 2


def test_a_dead_network_leaves_the_words_and_says_so(cast, open_page) -> None:
    page = open_page(cast.athlete, width=390)
    page.route("**/clips/*/frames*", lambda route: route.abort())
    page.goto(page_of(make_answered_submission(cast)))
    expect(page.get_by_role("alert")).to_contain_text("frame table did not arrive", timeout=20_000)
    expect(page.get_by_text("“Shove the bar back into the wall.”", exact=True)).to_be_visible()


def test_on_a_slow_network_the_words_come_before_the_clip(cast, open_page) -> None:
    """A gym's cellar: 50 kB/s, 400 ms away; the video itself never arrives."""
    page = open_page(cast.athlete, width=390)
    page.route("**/clips/*/playable*", lambda route: None)  # held for ever
    slow = {"offline": False, "latency": 400, "downloadThroughput": 50_000, "uploadThroughput": -1}
    page.context.new_cdp_session(page).send("Network.emulateNetworkConditions", slow)
    page.goto(page_of(make_answered_submission(cast)), wait_until="commit")
    expect(page.get_by_text("“Shove the bar back into the wall.”")).to_be_visible(timeout=20_000)
    expect(page.get_by_role("heading", name="Film again by")).to_be_visible()
    assert page.evaluate("document.querySelector('video')?.readyState ?? 0") == 0
