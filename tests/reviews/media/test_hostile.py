"""What is not a clip fails soon, in words an athlete can act on, and leaves nothing behind."""

import time
from collections.abc import Callable
from pathlib import Path

import pytest

from reviews.media.limits import Limits
from reviews.media.process import process
from reviews.media.refusals import SENTENCES, Refused
from tests.reviews.media import hostile
from tests.reviews.media.hostile import Write, text

SOON = 30.0
HLS = "#EXTM3U\n#EXT-X-TARGETDURATION:1\n#EXTINF:1,\n{victim}\n#EXT-X-ENDLIST\n"
DASH = (
    '<?xml version="1.0"?><MPD type="static" mediaPresentationDuration="PT1S"><Period>'
    '<AdaptationSet><Representation id="1" mimeType="video/mp4" bandwidth="1">'
    "<BaseURL>file://{victim}</BaseURL></Representation></AdaptationSet></Period></MPD>"
)
SDP = "v=0\no=- 0 0 IN IP4 127.0.0.1\ns=x\nc=IN IP4 127.0.0.1\nt=0 0\nm=video 5004 RTP/AVP 96\n"
SVG = '<svg xmlns="http://www.w3.org/2000/svg"><image href="file://{victim}"/></svg>'

CASES: dict[str, tuple[Write, str]] = {
    "empty.mp4": (hostile.empty, "empty"),
    "noise.mp4": (hostile.noise, "not_a_video"),
    "noise_after_ftyp.mp4": (hostile.noise_called_mp4, "unfinished"),
    "page.mp4": (text("<!doctype html><title>Sign in</title>"), "not_a_video"),
    "drawing.mp4": (text(SVG), "not_a_video"),
    "picture.mp4": (hostile.png, "picture"),
    "playlist.mp4": (text(HLS), "not_a_video"),
    "playlist.m3u8": (text(HLS), "not_a_video"),
    "concat.mp4": (text("ffconcat version 1.0\nfile {victim}\n"), "not_a_video"),
    "dash.mp4": (text(DASH), "not_a_video"),
    "session.mp4": (text(SDP), "not_a_video"),
    "no_moov.mp4": (hostile.no_moov, "unfinished"),
    "cut_moov_last.mp4": (hostile.cut(), "unfinished"),
    "cut_moov_first.mp4": (hostile.cut("-movflags", "+faststart"), "cut_off"),
    "cut_in_moov.mp4": (hostile.cut("-movflags", "+faststart", share=0.02), "cut_off"),
    "cut_and_mended.mp4": (hostile.cut_with_repaired_boxes, "cut_off"),
    "cut.mkv": (hostile.cut(), "cut_off"),
    "cut_fragments.mp4": (hostile.cut("-g", "15", "-movflags", "frag_keyframe"), "cut_off"),
    "giant.mp4": (hostile.giant, "too_big_picture"),
    "giant.mkv": (hostile.giant, "too_big_picture"),
    "a_day.mp4": (hostile.a_day, "too_long"),
    "a_day.mkv": (hostile.a_day, "too_long"),
    "sound_of_an_hour.mp4": (hostile.sound_of_an_hour, "too_long"),
    "many_streams.mp4": (hostile.many_streams, "too_many_parts"),
    "many_streams.mkv": (hostile.many_streams, "too_many_parts"),
    "sound_only.mp4": (hostile.sound_only, "no_picture"),
    "box_too_large.mp4": (hostile.box_too_large, "damaged"),
    "box_too_small.mp4": (hostile.box_too_small, "damaged"),
    "sample_table_lies.mp4": (hostile.sample_table_lies, "damaged"),
    "nested.mp4": (hostile.nested, "damaged"),
}


def refusal(source: Path, tmp_path: Path) -> Refused:
    """Process `source`, which must be refused soon with nothing left behind."""
    out = tmp_path / "out" / "clip"
    began = time.monotonic()
    with pytest.raises(Refused) as caught:
        process(source, out, on_progress=lambda _share: None, limits=Limits())
    assert time.monotonic() - began < SOON
    assert list((tmp_path / "out").iterdir()) == []
    return caught.value


@pytest.mark.parametrize("name", list(CASES))
def test_refused(name: str, tmp_path: Path, encoded: Callable[[str], Path]) -> None:
    write, reason = CASES[name]
    source = tmp_path / name
    write(source)
    if b"{victim}" in source.read_bytes()[:1000]:
        victim = encoded("h264.mp4")
        source.write_text(source.read_text().replace("{victim}", str(victim)))
    refused = refusal(source, tmp_path)
    assert refused.reason == reason, refused


FRAGMENTS = ("-movflags", "frag_keyframe+empty_moov", "-g", "15")


@pytest.mark.parametrize(
    "write",
    [
        hostile.claims_weeks(),
        hostile.claims_weeks(boxes=(b"mvhd", b"tkhd", b"mdhd")),
        hostile.claims_weeks(*FRAGMENTS, boxes=(b"mvhd", b"tkhd", b"mdhd")),
    ],
    ids=["movie", "movie and track headers", "fragments"],
)
def test_the_length_of_a_clip_is_that_of_its_frames(write: Write, tmp_path: Path) -> None:
    source = tmp_path / "claims_weeks.mp4"
    write(source)
    made = process(source, tmp_path / "clip", on_progress=lambda _share: None, limits=Limits())
    assert made.frames == 60
    assert made.seconds == pytest.approx(2.0, abs=1 / 30)  # a muxer may move a fragment so far


def test_media_in_another_file(tmp_path: Path, encoded: Callable[[str], Path]) -> None:
    """ISO/IEC 14496-12, section 8.7.2: without flag 1 a data reference names another file."""
    source = tmp_path / "linked.mov"
    hostile.linked(encoded("h264.mp4"))(source)
    assert refusal(source, tmp_path).reason == "linked"


@pytest.mark.parametrize("seed", range(12))
def test_scrambled_headers(seed: int, tmp_path: Path) -> None:
    """Whatever the damage, the answer is a clip or a refusal: never a crash, never a remainder."""
    source = tmp_path / "scrambled.mp4"
    hostile.scrambled(seed)(source)
    out = tmp_path / "out" / "clip"
    began = time.monotonic()
    try:
        process(source, out, on_progress=lambda _share: None, limits=Limits())
    except Refused:
        assert list((tmp_path / "out").iterdir()) == []
    else:
        assert list((tmp_path / "out").iterdir()) == [out]
    assert time.monotonic() - began < SOON


@pytest.mark.parametrize("reason", list(SENTENCES))
def test_sentences_can_be_acted_on(reason: str) -> None:
    """What happened, what is safe, what to do; in words of the gym and not of the trade."""
    sentence = Refused(reason).sentence
    assert "safe" in sentence
    assert any(word in sentence for word in ("send", "film"))
    jargon = ("codec", "stream", "container", "moov", "ffmpeg", "metadata", "bitrate", "decode")
    assert not any(word in sentence.lower() for word in jargon)


def test_larger_than_allowed(tmp_path: Path, encoded: Callable[[str], Path]) -> None:
    with pytest.raises(Refused) as caught:
        process(
            encoded("h264.mp4"),
            tmp_path / "clip",
            on_progress=lambda _share: None,
            limits=Limits(max_bytes=100),
        )
    assert caught.value.reason == "too_many_bytes"
