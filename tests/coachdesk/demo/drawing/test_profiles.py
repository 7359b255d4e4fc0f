"""A profile's file is what it claims to be, as PyAV's libav sees it, and every frame is its own."""

from fractions import Fraction

import av
import numpy as np
import pytest

from coachdesk.demo.drawing import ClipSpec, draw_clip, read_counter
from coachdesk.demo.drawing.encode import PROFILES
from tests.coachdesk.demo.drawing.decoding import upright_frames
from tests.coachdesk.demo.drawing.measuring import read_truth

pytestmark = pytest.mark.xdist_group("profiles")  # drawn once
SMALL = {"size": (180, 320), "seconds": 1.2, "reps": 1, "counter": True, "seed": 4}
# ITU-T H.273 code points: transfer 18 is HLG, 1 is BT.709; primaries and matrix 9 are BT.2020.
HLG, BT2020, BT709 = 18, 9, 1


@pytest.fixture(scope="module")
def drawn(tmp_path_factory):
    folder = tmp_path_factory.mktemp("profiles")
    return {name: draw_clip(ClipSpec(profile=name, **SMALL), folder / name) for name in PROFILES}


def _video(drawn, name):
    return av.open(str(drawn[name].video))


@pytest.mark.parametrize("name", PROFILES)
def test_every_frame_carries_its_number_and_its_time(drawn, name):
    clip = drawn[name]
    ticks = read_truth(clip)["ticks"]
    seen = [(time, read_counter(picture)) for time, picture in upright_frames(clip.video)]
    assert [number for _, number in seen] == list(range(clip.frames))
    assert [time for time, _ in seen] == [Fraction(tick, 90_000) for tick in ticks]


@pytest.mark.parametrize("name", PROFILES)
def test_upright_size_sound_and_tags(drawn, name):
    _, picture = next(upright_frames(drawn[name].video))
    assert picture.shape == (320, 180, 3)
    with _video(drawn, name) as file:
        audio = file.streams.audio[0]
        assert audio.codec_context.name == "aac"
        assert audio.codec_context.channels == PROFILES[name].channels
        assert float(audio.duration * audio.time_base) == pytest.approx(1.2, abs=0.1)
        tags = {**file.metadata}
        assert any("ISO6709" in key or key.startswith("location") for key in tags)
        assert any(key.endswith("make") for key in tags)


def test_hevc_is_ten_bit_hlg_and_turned(drawn):
    with _video(drawn, "hevc_hlg") as file:
        stream = file.streams.video[0]
        codec = stream.codec_context
        assert (codec.name, codec.codec_tag, codec.pix_fmt) == ("hevc", "hvc1", "yuv420p10le")
        assert (codec.color_trc, codec.color_primaries, codec.colorspace) == (HLG, BT2020, BT2020)
        assert (codec.width, codec.height) == (320, 180)
        frame = next(file.decode(video=0))
        assert frame.rotation == -90
        luma = frame.to_ndarray()[:180]
        # Truly ten bits: the two lowest are in use, about evenly.
        assert np.bincount(luma.ravel() % 4, minlength=4).min() > 0.15 * luma.size
    assert drawn["hevc_hlg"].video.suffix == ".mov"


def test_plain_h264_is_bt709_eight_bit_and_upright(drawn):
    with _video(drawn, "h264") as file:
        codec = file.streams.video[0].codec_context
        assert (codec.name, codec.pix_fmt) == ("h264", "yuv420p")
        assert (codec.color_trc, codec.color_primaries, codec.colorspace) == (BT709, BT709, BT709)
        assert next(file.decode(video=0)).rotation == 0


def test_variable_rate_varies_and_drops(drawn):
    gaps = np.diff(read_truth(drawn["vfr"])["ticks"])
    assert len(set(gaps)) > 5
    assert gaps.max() > 1.7 * np.median(gaps)
    assert gaps.min() > 0


def test_slow_motion_is_240_a_second(drawn):
    assert set(np.diff(read_truth(drawn["slow240"])["ticks"])) == {375}
    assert drawn["slow240"].frames == 288


def test_sixty_a_second(tmp_path):
    clip = draw_clip(ClipSpec(fps=60, **{**SMALL, "seconds": 0.5, "audio": False}), tmp_path / "a")
    with av.open(str(clip.video)) as file:
        assert file.streams.video[0].average_rate == 60
        assert not file.streams.audio
