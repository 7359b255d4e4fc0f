"""The frame table refuses to be a bad clock."""

import pytest

from reviews.media.frames import BadTable, FrameTable, frame_table
from tests.reviews.media.sources import SOURCE, with_video


def test_shape() -> None:
    table = FrameTable(timescale=600, pts=(0, 20, 45), duration=65, time_scale=8.0)
    assert table.to_json() == {
        "version": 1,
        "timescale": 600,
        "pts": [0, 20, 45],
        "duration": 65,
        "time_scale": 8.0,
    }
    assert table.seconds == pytest.approx(65 / 600)


@pytest.mark.parametrize(
    ("pts", "duration"),
    [((), 10), ((1, 2), 10), ((0, 2, 2), 10), ((0, 3, 2), 10), ((0, 5), 5)],
)
def test_bad_times(pts: tuple[int, ...], duration: int) -> None:
    with pytest.raises(BadTable):
        FrameTable(timescale=600, pts=pts, duration=duration)


def test_from_a_playable() -> None:
    table = frame_table(SOURCE, 1.0)
    assert (table.timescale, len(table.pts), table.duration) == (90_000, 100, 300_000)
    with pytest.raises(BadTable):
        frame_table(with_video(pts=(10, 20)), 1.0)
