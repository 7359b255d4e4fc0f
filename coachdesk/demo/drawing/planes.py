"""A picture as a camera's chip hands it to the codec: full luma, chroma at half size."""

from dataclasses import dataclass

import cv2
import numpy as np

from coachdesk.demo.drawing.paint import Image
from coachdesk.demo.drawing.vectors import Floats

_HALF = np.array([[1, 0, 0.5], [0, 1, 0.5], [0, 0, 1]])
_UNHALF = np.linalg.inv(_HALF)
_DOUBLE = np.diag([2.0, 2.0, 1.0])


@dataclass
class Planes:
    """luma (H, W) and chroma (H/2, W/2, 2: Cb, Cr), uint8, narrow range. H and W are even."""

    luma: Image
    chroma: Image

    @classmethod
    def of(cls, picture: Image) -> "Planes":
        """From a full Y'CbCr picture (H, W, 3)."""
        height, width = picture.shape[:2]
        small = cv2.resize(picture, (width // 2, height // 2), interpolation=cv2.INTER_AREA)
        return cls(picture[..., 0].copy(), small[..., 1:].copy())

    def warped(self, matrix: Floats, size: tuple[int, int]) -> "Planes":
        """Moved by a homography of pixel coordinates (centres at halves), cut to `size`.

        Plane by plane: OpenCV warps one and two channels several times faster than three.
        """
        half = np.linalg.inv(_DOUBLE) @ matrix @ _DOUBLE
        small = (size[0] // 2, size[1] // 2)
        return Planes(
            cv2.warpPerspective(self.luma, _at_wholes(matrix), size),
            cv2.warpPerspective(self.chroma, _at_wholes(half), small),
        )

    def cut(self, x0: int, y0: int, x1: int, y1: int) -> Image:
        """A full Y'CbCr copy of an area whose corners are even."""
        small = self.chroma[y0 // 2 : y1 // 2, x0 // 2 : x1 // 2]
        chroma = cv2.resize(small, (x1 - x0, y1 - y0), interpolation=cv2.INTER_LINEAR)
        return cv2.merge([self.luma[y0:y1, x0:x1], chroma])

    def paste(self, picture: Image, x0: int, y0: int) -> None:
        """Put a full Y'CbCr area back."""
        height, width = picture.shape[:2]
        small = Planes.of(picture)
        self.luma[y0 : y0 + height, x0 : x0 + width] = small.luma
        self.chroma[y0 // 2 : (y0 + height) // 2, x0 // 2 : (x0 + width) // 2] = small.chroma

    def picture(self) -> Image:
        """The whole picture at full chroma size (H, W, 3)."""
        height, width = self.luma.shape
        return self.cut(0, 0, width, height)


def _at_wholes(matrix: Floats) -> Floats:
    """The same mapping for OpenCV, whose pixel centres lie at whole numbers, ours at halves."""
    return np.asarray(_UNHALF @ matrix @ _HALF)
