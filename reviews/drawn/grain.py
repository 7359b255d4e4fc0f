"""From a painted picture to noisy planes, as a small sensor would deliver them."""

import cv2
import numpy as np
from numpy.typing import NDArray

from reviews.drawn.counter import burn
from reviews.drawn.paint import Image

POOL = 6
SPARE = 64


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

    def planes(self, picture: Image, frame: int, counter: bool, turns: int) -> list[NDArray]:  # type: ignore[type-arg]
        """Y, Cb and Cr of an upright picture (height, width, 3), turned as the phone stores it."""
        width, height = self.size
        luma, blue, red = cv2.split(picture)
        half = (width // 2, height // 2)
        blue = cv2.resize(blue, half, interpolation=cv2.INTER_AREA)
        red = cv2.resize(red, half, interpolation=cv2.INTER_AREA)
        field = self.fields[int(self.rng.integers(POOL))]
        y, x = self.rng.integers(SPARE, size=2)
        patch = field[y : y + height, x : x + width]
        if counter:
            noisy = self._wide(luma, patch)
            clean = luma.copy()
            burn(clean, frame)
            side = min(width, height) / 24
            corner = (slice(int(height - 3 * side), height), slice(0, int(13 * side)))
            noisy[corner] = self._flat(clean[corner])
            blue[corner[0].start // 2 :, : corner[1].stop // 2] = 128
            red[corner[0].start // 2 :, : corner[1].stop // 2] = 128
        else:
            noisy = self._wide(luma, patch)
        planes = [noisy, self._flat(blue), self._flat(red)]
        if turns:
            code = {
                1: cv2.ROTATE_90_CLOCKWISE,
                2: cv2.ROTATE_180,
                3: cv2.ROTATE_90_COUNTERCLOCKWISE,
            }[turns]
            planes = [cv2.rotate(plane, code) for plane in planes]
        return planes

    def _wide(self, luma: Image, patch: NDArray[np.int16]) -> NDArray:  # type: ignore[type-arg]
        if not self.ten_bit:
            return cv2.add(luma, patch, dtype=cv2.CV_8U)
        return cv2.add(luma.astype(np.int16) << 2, patch).astype(np.uint16)

    def _flat(self, plane: Image) -> NDArray:  # type: ignore[type-arg]
        return plane.astype(np.uint16) << 2 if self.ten_bit else plane
