"""The tracks of a reply by the browser's own parser, and the coach's words while the clip plays."""

import pytest
from playwright.sync_api import Page, expect

from reviews.replies.models import ReplyVersion
from reviews.replies.services.publish_reply import publish_reply
from tests.browser.reply.factories import make_answered_submission, make_clip
from tests.browser.reply.pages import page_of
from tests.browser.waiting import wait_until
from tests.published.test_webvtt import HOSTILE
from tests.reviews.replies.rows import a_note, a_submission

CUES = """kind => [...document.querySelectorAll("exact-player track")]
  .filter(track => track.kind === kind).flatMap(track => [...(track.track.cues ?? [])])
  .map(cue => ({id: cue.id, start: cue.startTime, end: cue.endTime,
    words: cue.getCueAsHTML().textContent, tags: cue.getCueAsHTML().children.length}))"""


def cues(page: Page, kind: str, many: int) -> list[dict]:
    """One reading that has them all: a second look could fall between two loads of the tracks,
    which begin anew when the whole clip has arrived."""
    whole = f"""([kind, many]) => {{ const read = ({CUES})(kind);
      return read.length === many && read; }}"""
    return wait_until(page, whole, [kind, many])


def test_the_browser_reads_what_was_sent(cast, open_page) -> None:
    submission = make_answered_submission(cast)
    content = ReplyVersion.objects.get().content
    page = open_page(cast.athlete, width=390)
    page.goto(page_of(submission))
    moments = [*content["rest"], *reversed(content["points"])]  # by their place in the clip
    read = cues(page, "captions", len(moments))
    assert [cue["id"] for cue in read] == [f"note-{moment['note']}" for moment in moments]
    assert [cue["start"] for cue in read] == [moment["seconds"] for moment in moments]
    assert "1. Hips rise first\n“Shove the bar back into the wall.”\n" in read[2]["words"]
    assert [cue["words"] for cue in cues(page, "chapters", 3)] == [
        "Rep 1: to standard",
        "Rep 2: can't tell from this angle",
        "Rep 3: not to standard, Hips rise first",
    ]


@pytest.mark.parametrize("words", [HOSTILE[0], HOSTILE[1], HOSTILE[3], HOSTILE[5]])
def test_no_words_break_the_browser_s_reading(cast, open_page, words: str) -> None:
    submission = a_submission(cast.athlete)
    clip = make_clip(submission)
    for frame in (10, 40):
        a_note(cast.coach, clip, frame, frame, text=words[:4000], rank=1)
    publish_reply(coach=cast.coach, submission_id=submission.pk)
    page = open_page(cast.athlete, width=390)
    page.goto(page_of(submission))
    read = cues(page, "captions", 2)
    assert [cue["tags"] for cue in read] == [0, 0]
    shown = ["1.", "What", "to", "look", "at", *words[:4000].split()]
    assert read[0]["words"].split() == shown


def test_the_words_stand_below_the_clip_while_it_plays(cast, open_page) -> None:
    submission = make_answered_submission(cast)
    page = open_page(cast.athlete, width=390)
    page.goto(page_of(submission))
    caption = page.locator("[data-caption]")
    expect(caption).to_contain_text("1. Hips rise first")
    expect(caption).to_contain_text("“Shove the bar back into the wall.”")
    height = caption.bounding_box()["height"]
    page.get_by_role("button", name="Rep 1", exact=True).click()
    wait_until(page, "document.querySelector('exact-player').currentFrame === 5")
    expect(caption).to_contain_text("Rep 1: to standard")
    page.get_by_role("button", name="Play from here").click()
    expect(caption).to_contain_text("Grip a thumb wider than last time.")
    expect(caption).to_contain_text("“One flat print on the floor.”")  # where it stops next
    assert caption.bounding_box()["height"] == height  # nothing below it has moved
