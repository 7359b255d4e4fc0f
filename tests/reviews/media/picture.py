"""A drawn test picture that says which frame it is and which way is up.

Corners: red top left, green top right, blue bottom left, white bottom right, on grey. Between them
the frame number as twelve black or white blocks, the highest bit at the left.
"""

from collections.abc import Iterator
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

Image = NDArray[np.uint8]

BITS = 12
RED, GREEN, BLUE, WHITE = (200, 30, 30), (30, 160, 30), (30, 30, 200), (235, 235, 235)
CORNERS = {"red": RED, "green": GREEN, "blue": BLUE, "white": WHITE}
GREY = 110


def draw(number: int, width: int, height: int) -> Image:
    """Frame `number` as RGB, height x width x 3."""
    image = np.full((height, width, 3), GREY, np.uint8)
    wide, high = width // 4, height // 4
    image[:high, :wide] = RED
    image[:high, -wide:] = GREEN
    image[-high:, :wide] = BLUE
    image[-high:, -wide:] = WHITE
    for bit, (left, right) in enumerate(_cells(width)):
        on = number >> (BITS - 1 - bit) & 1
        image[_band(height), left:right] = 255 if on else 0
    return image


def stack(count: int, width: int, height: int) -> Iterator[bytes]:
    for number in range(count):
        yield draw(number, width, height).tobytes()


def read_number(image: Image) -> int:
    """The frame number in a decoded picture of any size."""
    height, width = image.shape[:2]
    band = image[_band(height)].mean(axis=(0, 2))
    number = 0
    for left, right in _cells(width):
        inner = (right - left) // 4
        number = number << 1 | int(band[left + inner : right - inner].mean() > 127)
    return number


def read_corners(image: Image) -> tuple[str, str, str, str]:
    """The names of the colours at top left, top right, bottom left, bottom right."""
    height, width = image.shape[:2]
    wide, high = width // 4, height // 4
    spots = [(0, 0), (0, width - wide), (height - high, 0), (height - high, width - wide)]
    names = []
    for y, x in spots:
        patch = image[y + high // 4 : y + 3 * high // 4, x + wide // 4 : x + 3 * wide // 4]
        names.append(_nearest(patch.reshape(-1, 3).mean(axis=0)))
    return names[0], names[1], names[2], names[3]


def _nearest(colour: NDArray[np.float64]) -> str:
    return min(CORNERS, key=lambda name: float(np.abs(colour - np.array(CORNERS[name])).sum()))


def _band(height: int) -> slice:
    return slice(height * 7 // 16, height * 9 // 16)


def _cells(width: int) -> list[tuple[int, int]]:
    edges = [width * n // BITS for n in range(BITS + 1)]
    return list(pairwise(edges))
