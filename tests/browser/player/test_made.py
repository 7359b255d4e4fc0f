"""Every frame of what the real pipeline makes can be reached, and is the one it is called.

The clips were sent with a number in the pixels of each picture (clips.py); their playables are
stepped through on the workbench, where the numbers are read back from the screen.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect

from reviews.intake import clip_data
from tests.browser.player import clips, factories
from tests.conftest import Cast

WALK = """async () => {
  const player = document.querySelector("exact-player");
  const pen = new OffscreenCanvas(320, 20).getContext("2d", { willReadFrequently: true });
  const seen = () => {
    pen.drawImage(player.picture, 0, 0, 320, 20, 0, 0, 320, 20);
    let number = 0;
    for (let bit = 0; bit < 16; bit += 1) {
      if (pen.getImageData(bit * 20 + 10, 10, 1, 1).data[0] > 127) number |= 1 << bit;
    }
    return number;
  };
  const rows = [];
  const { last } = player.table;
  await player.goTo(0);
  for (let frame = 1; frame <= last; frame += 1) {
    await player.step(1);
    rows.push([frame, player.currentFrame, seen()]);
  }
  for (let frame = last - 1; frame >= 0; frame -= 1) {
    await player.step(-1);
    rows.push([frame, player.currentFrame, seen()]);
  }
  return rows;
}"""


@pytest.mark.parametrize(
    ("times", "at_hand"),
    [(clips.constant(90), True), (clips.variable(90), True), (clips.slightly_uneven(90), False)],
    ids=["constant", "variable", "slightly-uneven, its table asked for"],
)
def test_every_frame_of_a_made_clip(
    cast: Cast,
    open_page,
    tmp_path: Path,
    times: list[int],
    at_hand: bool,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """A short clip's frame table comes with the page; a longer one's is asked for."""
    if not at_hand:
        monkeypatch.setattr(clip_data, "_FRAMES_AT_HAND", len(times) - 1)
    clips.write(tmp_path / "sent.mp4", times)
    submission = factories.make_submission(cast.athlete)
    factories.make_clip(submission, tmp_path / "sent.mp4")
    page: Page = open_page(cast.coach)
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(reverse("workbench", args=[submission.pk]))
    expect(page.locator("player-controls .at")).to_contain_text(" of 89")
    rows = page.evaluate(WALK)
    assert len(rows) == 2 * 89
    assert [row for row in rows if len(set(row)) != 1] == []
    assert any("/frames?" in url for url in asked) is not at_hand
