"""Colours as the codec carries them: 8-bit Y'CbCr planes, so nothing is converted per frame.

Drawing blends colours linearly, and so does Y'CbCr of gamma-coded values, so the lifter is painted
straight in the clip's own signal. Two signals: BT.709 (ITU-R BT.709-6) and HLG with BT.2020
primaries (ITU-R BT.2100-2; SDR white at 75% HLG as in ITU-R BT.2408), both narrow range.
"""

from dataclasses import dataclass

import numpy as np

from coachdesk.demo.drawing.vectors import Floats

TO_2020 = np.array(  # BT.709 to BT.2020 primaries, linear light (ITU-R BT.2087)
    [[0.6274, 0.3293, 0.0433], [0.0691, 0.9195, 0.0114], [0.0164, 0.0880, 0.8956]]
)
HLG_WHITE = 0.265  # scene light whose HLG signal is 0.75


def _srgb_to_linear(rgb: Floats) -> Floats:
    return np.where(rgb <= 0.04045, rgb / 12.92, ((rgb + 0.055) / 1.055) ** 2.4)


def _hlg(light: Floats) -> Floats:
    a, b, c = 0.17883277, 0.28466892, 0.55991073
    low = np.sqrt(3 * np.clip(light, 0, 1 / 12))
    high = a * np.log(np.maximum(12 * light - b, 1e-6)) + c
    return np.asarray(np.where(light <= 1 / 12, low, high))


@dataclass(frozen=True)
class Signal:
    """How sRGB colours become Y'CbCr: `hlg` chooses BT.2100 HLG over BT.709."""

    hlg: bool = False

    def coded(self, rgb: Floats) -> Floats:
        """sRGB 0..255 (..., 3) to narrow-range Y'CbCr on the 8-bit scale (..., 3), as floats."""
        value = np.clip(np.asarray(rgb, dtype=float) / 255, 0, 1)
        kr, kb = (0.2627, 0.0593) if self.hlg else (0.2126, 0.0722)
        if self.hlg:
            value = _hlg(HLG_WHITE * (_srgb_to_linear(value) @ TO_2020.T))
        luma = kr * value[..., 0] + (1 - kr - kb) * value[..., 1] + kb * value[..., 2]
        blue = (value[..., 2] - luma) / (2 * (1 - kb))
        red = (value[..., 0] - luma) / (2 * (1 - kr))
        return np.stack([16 + 219 * luma, 128 + 224 * blue, 128 + 224 * red], axis=-1)

    def colour(self, rgb: Floats | tuple[float, float, float]) -> tuple[float, float, float]:
        """One colour, ready for OpenCV's drawing calls."""
        y, b, r = self.coded(np.asarray(rgb, dtype=float))
        return float(y), float(b), float(r)
