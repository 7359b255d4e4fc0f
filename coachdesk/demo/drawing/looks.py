"""Colours of the person, their clothes and the gym: muted, a little different for each lifter."""

from dataclasses import dataclass

import numpy as np

Rgb = tuple[float, float, float]

SKINS: tuple[Rgb, ...] = (
    (214, 170, 140),
    (196, 148, 116),
    (158, 112, 84),
    (112, 78, 60),
    (226, 186, 160),
)
HAIRS: tuple[Rgb, ...] = ((52, 40, 34), (28, 25, 25), (110, 78, 52), (150, 122, 84), (84, 52, 38))
SHIRTS: tuple[Rgb, ...] = (
    (141, 163, 150),
    (92, 112, 122),
    (168, 148, 128),
    (70, 84, 78),
    (176, 178, 172),
)
SHORTS: tuple[Rgb, ...] = ((52, 62, 60), (44, 46, 52), (70, 66, 62))
SHOES: tuple[Rgb, ...] = ((232, 230, 224), (60, 62, 64), (176, 84, 66))

GYM: dict[str, Rgb] = {
    "wall": (216, 212, 203),
    "wainscot": (198, 194, 184),
    "skirting": (150, 146, 138),
    "floor": (142, 138, 130),
    "rubber": (84, 85, 84),
    "wood": (176, 154, 126),
    "rack": (66, 74, 76),
    "pad": (48, 52, 54),
    "box": (186, 172, 148),
    "steel": (168, 170, 172),
    "chrome": (196, 198, 200),
    "red": (138, 68, 62),
    "blue": (66, 88, 120),
    "ochre": (166, 138, 82),
    "green": (76, 116, 88),
    "white": (206, 204, 198),
    "dark": (52, 54, 56),
    "sole": (226, 222, 212),
    "sock": (224, 222, 216),
    "belt": (92, 66, 48),
    "buckle": (178, 172, 160),
    "eye": (46, 36, 32),
    "lip": (150, 92, 82),
}


@dataclass(frozen=True)
class Look:
    """One lifter's colours and habits: hair up or short, belt, long or short sleeves."""

    colours: dict[str, Rgb]
    bun: bool
    beard: bool
    belt: bool
    tights: bool


def look_of(seed: int, lift: str) -> Look:
    """The same person for the same seed; a belt only where lifters wear one."""
    rng = np.random.default_rng([seed, 5])

    def pick(options: tuple[Rgb, ...]) -> Rgb:
        return options[int(rng.integers(len(options)))]

    hair = pick(HAIRS)
    own = {
        "skin": pick(SKINS),
        "hair": hair,
        "brow": hair,
        "shirt": pick(SHIRTS),
        "shorts": pick(SHORTS),
        "shoe": pick(SHOES),
    }
    bun = bool(rng.random() < 0.45)
    beard = bool(rng.random() < 0.5) and not bun
    belt = lift != "bench_press" and bool(rng.random() < 0.8)
    return Look({**GYM, **own}, bun, beard, belt, bool(rng.random() < 0.4))
