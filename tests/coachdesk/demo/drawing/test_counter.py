"""The burnt-in counter: no wrong number is ever read, and the right one survives handling."""

import cv2
import numpy as np
import pytest

from coachdesk.demo.drawing.counter import (
    CHECK_CELLS,
    NUMBER_CELLS,
    _square,
    burn,
    cells_of,
    read_counter,
)


def _picture(number: int, size: tuple[int, int] = (720, 1280)) -> np.ndarray:
    luma = np.full(size[::-1], 120, np.uint8)
    burn(luma, number)
    return np.repeat(luma[..., None], 3, axis=2)


@pytest.mark.parametrize("size", [(720, 1280), (1280, 720), (360, 640), (320, 568), (1080, 1080)])
def test_reads_back_every_bit(size):
    for number in [0, 1, 65535, 0x5555, 0xAAAA, *(1 << k for k in range(16))]:
        assert read_counter(_picture(number, size)) == number


@pytest.mark.parametrize("number", [0, 7, 1023, 40_000, 65_535])
def test_a_single_wrong_cell_reads_as_nothing(number):
    for cell in (*NUMBER_CELLS, *CHECK_CELLS):
        image = _picture(number)
        rows, columns = _square(720, 1280, cell, 0.0)
        image[rows, columns] = 24 if cells_of(number)[cell] else 226
        assert read_counter(image) is None


def test_nothing_is_read_where_nothing_is_burnt():
    rng = np.random.default_rng(2)
    assert read_counter(np.full((640, 360, 3), 128, np.uint8)) is None
    blocks = rng.integers(0, 255, (400, 24, 24, 3)).astype(np.uint8)
    found = [read_counter(cv2.resize(b, (360, 640))) for b in blocks]
    # Random blocks pass four references and four check bits by luck about once in 500.
    assert sum(n is not None for n in found) < 8


@pytest.mark.parametrize("number", [3, 300, 12_345])
def test_survives_scaling_blur_noise_and_jpeg(number):
    image = _picture(number, (1080, 1920))
    small = cv2.resize(image, (360, 640), interpolation=cv2.INTER_AREA)
    soft = cv2.GaussianBlur(small, (0, 0), 2.0).astype(float)
    noisy = np.clip(soft + np.random.default_rng(1).normal(0, 12, soft.shape), 0, 255)
    ok, packed = cv2.imencode(".jpg", noisy.astype(np.uint8), [cv2.IMWRITE_JPEG_QUALITY, 25])
    assert ok
    assert read_counter(cv2.imdecode(packed, cv2.IMREAD_COLOR)) == number
    assert read_counter(np.rot90(np.rot90(image), -1)) == number


def test_the_recipe_for_a_page_reads_the_same_cells():
    # The docstring's geometry, written out as a page would, on its own.
    image, number = _picture(4242, (720, 1280)), 0
    height, width = image.shape[:2]
    side = min(width, height) / 24
    bits = []
    for i in range(24):
        x, y = side / 2 + (i % 12) * side, height - side * (2.5 if i < 12 else 1.5)
        part = image[
            int(y + side / 4) : int(y + side * 3 / 4), int(x + side / 4) : int(x + side * 3 / 4)
        ]
        bits.append(part.mean() > 128)
    for i in [*range(1, 11), *range(13, 19)]:
        number = number * 2 + int(bits[i])
    check = int("".join(str(int(b)) for b in bits[19:23]), 2)
    assert number == 4242
    assert check == (7 * number + 5) % 13
    assert (bits[0], bits[11], bits[12], bits[23]) == (True, False, False, True)


def test_sixteen_bits_and_no_more():
    with pytest.raises(ValueError, match="16 bits"):
        burn(np.zeros((640, 360), np.uint8), 65_536)
