"""Where and with what a clip was filmed stays with the athlete."""

from pathlib import Path

import pytest

from reviews.media.limits import Limits
from reviews.media.process import process
from tests.reviews.media.encodes import DEVICE_TAGS, FITTING, HEVC, run_ffmpeg
from tests.reviews.media.watch import tracks, words


@pytest.mark.parametrize("video", [FITTING, HEVC], ids=["remuxed", "transcoded"])
def test_other_tracks_chapters_and_tags_are_left_behind(video: list[str], tmp_path: Path) -> None:
    """A phone's file: device tags, a time code track, a text track, chapters, track names."""
    source, out = tmp_path / "phone.mov", tmp_path / "out"
    (tmp_path / "text.srt").write_text("1\n00:00:00,000 --> 00:00:01,000\nSecret words\n")
    (tmp_path / "chapters.txt").write_text(
        ";FFMETADATA1\n[CHAPTER]\nTIMEBASE=1/1000\nSTART=0\nEND=900\ntitle=Secret chapter\n"
    )
    tags = [word for key, value in DEVICE_TAGS.items() for word in ("-metadata", f"{key}={value}")]
    run_ffmpeg(
        [
            *("-f", "lavfi", "-i", "testsrc2=s=320x180:r=30:d=1", "-f", "lavfi", "-i", "sine=d=1"),
            *("-i", str(tmp_path / "text.srt"), "-i", str(tmp_path / "chapters.txt")),
            *("-map", "0:v", "-map", "1:a", "-map", "2:s", "-map_chapters", "3"),
            *video,
            *("-c:a", "aac", "-c:s", "mov_text", "-timecode", "01:00:00:00", *tags),
            *("-metadata:s:v", "handler_name=Secret lens", "-movflags", "use_metadata_tags"),
            str(source),
        ]
    )
    assert tracks(source) == ["audio", "data", "data", "subtitle", "video"]
    assert b"Secret words" in source.read_bytes()
    assert words(source)["com.apple.quicktime.make"] == "Secretmaker"
    made = process(source, out, on_progress=lambda _share: None, limits=Limits())
    assert made.remuxed == (video is FITTING)
    for what in ("playable", "original"):
        assert tracks(out / made.files[what]) == ["audio", "video"]
    for path in out.iterdir():
        data = path.read_bytes()
        for trace in (b"Secret", b"+47.37", b"apple", b"2026-11-20", b"tmcd"):
            assert trace not in data, (path.name, trace)
