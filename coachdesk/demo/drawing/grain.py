"""From a painted picture to noisy planes, as a small sensor would deliver them."""

import cv2
import numpy as np
from numpy.typing import NDArray

from coachdesk.demo.drawing.counter import burn
from coachdesk.demo.drawing.paint import Image
from coachdesk.demo.drawing.planes import Planes

POOL = 6
SPARE = 64
TURNS = {
    1: cv2.ROTATE_90_CLOCKWISE,
    2: cv2.ROTATE_180,
    3: cv2.ROTATE_90_COUNTERCLOCKWISE,
}


class Sensor:
    """Turns pictures into planar 4:2:0 bytes with noise and small exposure changes.

    The noise is made once (POOL fields, larger than the picture) and laid at a new random offset
    in every frame: random enough for an encoder and an eye, at the price of one addition.
    """

    def __init__(self, size: tuple[int, int], seed: int, noise: float, ten_bit: bool) -> None:
        self.size = size
        self.ten_bit = ten_bit
        self.rng = np.random.default_rng([seed, 41])
        width, height = size
        shape = (height + SPARE, width + SPARE)
        sigma = 2.2 * noise * (4 if ten_bit else 1)
        self.fields = [self._field(shape, sigma) for _ in range(POOL)]

    def _field(self, shape: tuple[int, int], sigma: float) -> NDArray[np.int16]:
        rough = self.rng.standard_normal(shape).astype(np.float32)
        soft = cv2.GaussianBlur(rough, (3, 3), 0.6)
        return np.asarray((soft / soft.std() * sigma).round().astype(np.int16))

    def stored(self, picture: Planes, frame: int, counter: bool, turns: int) -> list[Image]:
        """Y, Cb and Cr of an upright picture with noise, turned as the phone stores it."""
        width, height = self.size
        field = self.fields[int(self.rng.integers(POOL))]
        y, x = self.rng.integers(SPARE, size=2)
        luma = self._wide(picture.luma, field[y : y + height, x : x + width])
        blue, red = cv2.split(picture.chroma)
        if counter:
            burn(luma, frame, 4 if self.ten_bit else 1)
            side = min(width, height) / 24
            corner = (slice(int((height - 3 * side) / 2), None), slice(0, int(6.5 * side)))
            blue[corner] = red[corner] = 128
        planes = [luma, self._flat(blue), self._flat(red)]
        return [cv2.rotate(plane, TURNS[turns]) for plane in planes] if turns else planes

    def _wide(self, luma: Image, patch: NDArray[np.int16]) -> Image:
        if not self.ten_bit:
            return cv2.add(luma, patch, dtype=cv2.CV_8U)
        return cv2.add(luma.astype(np.int16) << 2, patch).astype(np.uint16)

    def _flat(self, plane: Image) -> Image:
        return plane.astype(np.uint16) << 2 if self.ten_bit else plane
