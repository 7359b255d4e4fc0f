"""What hangs on the bar: plates per side for a load, and the bar's own measures.

Largest disc 450 mm, 1,310 mm between sleeves, shaft 28 mm, sleeve 50 mm, length 2.2 m: IWF and
IPF figures as reproduced by federations (second hand). Diameters and thicknesses of the smaller
discs, and all thicknesses, are common sizes from memory.
"""

from dataclasses import dataclass

SLEEVE_START = 0.655
SLEEVE_END = 1.09
SHAFT_RADIUS = 0.014
SLEEVE_RADIUS = 0.025
COLLAR_WIDTH = 0.03


@dataclass(frozen=True)
class Plate:
    """One disc: mass in kg, radius and thickness in metres, colour key."""

    kg: float
    radius: float
    thickness: float
    colour: str


PLATES = (
    Plate(25, 0.225, 0.045, "red"),
    Plate(20, 0.225, 0.040, "blue"),
    Plate(15, 0.200, 0.036, "ochre"),
    Plate(10, 0.162, 0.032, "green"),
    Plate(5, 0.115, 0.026, "white"),
    Plate(2.5, 0.095, 0.020, "dark"),
    Plate(1.25, 0.080, 0.016, "steel"),
)
# From the floor the bar must stand at full height whatever the load: light technique discs.
TECHNIQUE = {2.5: Plate(2.5, 0.225, 0.035, "dark"), 5.0: Plate(5, 0.225, 0.045, "dark")}


def plates_per_side(load_kg: float, bar_kg: float, full_height: bool) -> tuple[Plate, ...]:
    """Plates on each sleeve, inside to outside, so that bar and plates weigh exactly the load.

    full_height: the first disc must be 0.45 m across (a deadlift starts from the floor).
    Raises ValueError when the load cannot be made from pairs of these plates.
    """
    rest = round((load_kg - bar_kg) / 2, 4)
    chosen: list[Plate] = []
    if full_height and rest < 20:
        first = 5.0 if rest >= 5 else 2.5
        chosen.append(TECHNIQUE[first])
        rest -= first
    for plate in PLATES:
        while rest >= plate.kg - 1e-9:
            chosen.append(plate)
            rest -= plate.kg
    if abs(rest) > 1e-6:
        raise ValueError(f"{load_kg} kg cannot be loaded on a {bar_kg} kg bar with these plates")
    if SLEEVE_START + sum(p.thickness for p in chosen) + COLLAR_WIDTH > SLEEVE_END:
        raise ValueError(f"{load_kg} kg does not fit on the sleeves")
    return tuple(chosen)
