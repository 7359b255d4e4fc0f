"""A source that already fits keeps its very pictures."""

from collections.abc import Callable

import av
import numpy as np
import pytest

from tests.reviews.media.conftest import Processed
from tests.reviews.media.encodes import KINDS

FITTING = {"fitting.mp4", "fitting_tagged.mov", "fitting.mkv", "one_frame.mp4"}


@pytest.mark.parametrize("name", [kind.name for kind in KINDS])
def test_only_what_fits(name: str, processed: Callable[[str], Processed]) -> None:
    assert processed(name).made.remuxed == (name in FITTING)


@pytest.mark.parametrize("name", sorted(FITTING))
def test_pictures_are_bit_identical(name: str, processed: Callable[[str], Processed]) -> None:
    clip = processed(name)
    with av.open(str(clip.source)) as before, av.open(str(clip.file("playable"))) as after:
        pairs = zip(before.decode(video=0), after.decode(video=0), strict=True)
        assert all(np.array_equal(a.to_ndarray(), b.to_ndarray()) for a, b in pairs)
