"""Our reader of sample tables against libavformat's (by PyAV), an independent reading of
ISO/IEC 14496-12: where each coded picture lies, which are keys, and the order they are shown in."""

from __future__ import annotations

from pathlib import Path

import av
import pytest
from playwright.sync_api import Page

READ = """async name => {
  const { groupsOf, readTrack } = await import("/static/js/player/mp4.js");
  const file = await fetch(`/clips/${name}.mp4`);
  const { samples, codec, width, height, description } = readTrack(await file.arrayBuffer());
  return { samples, codec, width, height, bytes: description.length,
           groups: groupsOf(samples)?.map((group) => group.length) ?? null };
}"""


def told_by_libavformat(path: Path) -> list[dict[str, object]]:
    with av.open(str(path)) as box:
        packets = [packet for packet in box.demux(video=0) if packet.size]
    order = sorted(range(len(packets)), key=lambda at: packets[at].pts)
    shown = {sample: frame for frame, sample in enumerate(order)}
    return [
        {"offset": packet.pos, "size": packet.size, "key": packet.is_keyframe, "frame": shown[at]}
        for at, packet in enumerate(packets)
    ]


@pytest.mark.parametrize("name", ["constant", "variable", "single"])
def test_samples_are_where_libavformat_finds_them(page: Page, clip_folder: Path, name: str) -> None:
    read = page.evaluate(READ, name)
    told = told_by_libavformat(clip_folder / f"{name}.mp4")
    assert read["samples"] == told
    assert sum(read["groups"]) == len(told)
    with av.open(str(clip_folder / f"{name}.mp4")) as box:
        stream = box.streams.video[0]
        assert (read["width"], read["height"]) == (stream.width, stream.height)
        assert read["bytes"] == len(stream.codec_context.extradata)
    assert read["codec"].startswith("avc1.")


def test_a_file_that_is_not_ours_is_refused_and_an_open_group_is_not_trusted(page: Page) -> None:
    said = page.evaluate("""async () => {
      const { groupsOf, readTrack } = await import("/static/js/player/mp4.js");
      const words = [];
      for (const bytes of [[], [0, 0, 0, 9, 109, 111, 111, 118], new Array(64).fill(255)]) {
        try { readTrack(new Uint8Array(bytes).buffer); words.push("read"); }
        catch (error) { words.push(error.name); }
      }
      const sample = (key, frame) => ({ offset: 0, size: 1, key, frame });
      // the third picture is coded after the second key but shown before it
      words.push(groupsOf([sample(true, 0), sample(false, 1), sample(true, 3), sample(false, 2)]));
      words.push(groupsOf([sample(false, 0)]));
      return words;
    }""")
    assert said == ["RangeError", "RangeError", "RangeError", None, None]
