"""A frame counter burnt into a corner, read back from pixels by Python or by a canvas.

Geometry, as fractions of the upright picture (so it survives scaling and lossless rotation):
let s = min(width, height) / 24. Twelve columns and two rows of square cells of side s; the left
edge of the grid is s/2 from the left of the picture, its lower edge s/2 above the bottom. Around
it is a dark quiet zone of s/4. Cells are numbered row by row from the upper left, 0 to 23:

    cell 0 white, cell 11 black, cell 12 black, cell 23 white     (references)
    cells 1..10 and 13..18: the frame number n, 16 bits, most significant first
    cells 19..22 hold four check bits, most significant first: (7 n + 5) mod 13

White is a set bit. To read: average the middle half of each cell's luma; the threshold is halfway
between the mean of the white and the mean of the black references; no counter if they are less
than 60 of 255 apart, or a reference falls on the wrong side, or the check fails. In a page:

    const s = Math.min(w, h) / 24, bits = [];
    for (let i = 0; i < 24; i++) {
      const x = s / 2 + (i % 12) * s, y = h - s * (i < 12 ? 2.5 : 1.5);
      bits.push(mean luma of the square (x + s/4, y + s/4, s/2, s/2));
    }

2 is a primitive root of 13 and 7 does not divide by it, so any single wrong bit fails the check.
"""

from typing import Any

from numpy.typing import NDArray

COLUMNS, ROWS = 12, 2
WHITE_CELLS, BLACK_CELLS = (0, 23), (11, 12)
NUMBER_CELLS = (*range(1, 11), *range(13, 19))
CHECK_CELLS = tuple(range(19, 23))
LOW, HIGH = 24, 226


def check_of(number: int) -> int:
    """The four check bits of a frame number."""
    return (7 * number + 5) % 13


def cells_of(number: int) -> list[bool]:
    """The 24 cells for a frame number 0..65535, True is white."""
    if not 0 <= number < 1 << 16:
        raise ValueError("the counter holds 16 bits")
    cells = [False] * (COLUMNS * ROWS)
    for cell in WHITE_CELLS:
        cells[cell] = True
    for place, cell in enumerate(NUMBER_CELLS):
        cells[cell] = bool(number >> (15 - place) & 1)
    for place, cell in enumerate(CHECK_CELLS):
        cells[cell] = bool(check_of(number) >> (3 - place) & 1)
    return cells


def _square(width: int, height: int, cell: int, inset: float) -> tuple[slice, slice]:
    side = min(width, height) / 24
    left = side / 2 + (cell % COLUMNS) * side
    top = height - side * (2.5 if cell < COLUMNS else 1.5)
    rows = slice(round(top + inset * side), round(top + side - inset * side))
    return rows, slice(round(left + inset * side), round(left + side - inset * side))


def burn(luma: NDArray[Any], number: int, scale: int = 1) -> None:
    """Write the counter into an upright luma plane (height, width), in place.

    scale is 4 for a 10-bit plane.
    """
    height, width = luma.shape
    side = min(width, height) / 24
    quiet = side / 4
    luma[
        round(height - 2.5 * side - quiet) : round(height - side / 2 + quiet),
        round(side / 2 - quiet) : round(12.5 * side + quiet),
    ] = LOW * scale
    for cell, white in enumerate(cells_of(number)):
        luma[_square(width, height, cell, 0.0)] = (HIGH if white else LOW) * scale


def read_counter(image_rgb: NDArray[Any]) -> int | None:
    """The frame number in an upright picture (height, width, 3), or None where there is none."""
    height, width = image_rgb.shape[:2]
    luma = []
    for cell in range(COLUMNS * ROWS):
        block = image_rgb[_square(width, height, cell, 0.25)]
        if block.size == 0:
            return None
        luma.append(float(block.mean()))
    white = [luma[c] for c in WHITE_CELLS]
    black = [luma[c] for c in BLACK_CELLS]
    middle = (sum(white) + sum(black)) / 4
    if sum(white) - sum(black) < 120 or min(white) < middle or max(black) > middle:
        return None
    number = check = 0
    for cell in NUMBER_CELLS:
        number = number << 1 | (luma[cell] > middle)
    for cell in CHECK_CELLS:
        check = check << 1 | (luma[cell] > middle)
    return int(number) if check == check_of(number) else None
