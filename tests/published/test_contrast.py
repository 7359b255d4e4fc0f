"""Colours against WCAG 2.2: every pair of tokens that meet passes AA, in both themes.

Text needs 4.5:1 (success criterion 1.4.3); edges of controls, focus rings, marks and chart lines
need 3:1 (1.4.11). Contrast is (L1 + 0.05) / (L2 + 0.05) with WCAG's relative luminance; OKLCH
becomes sRGB by the matrices of CSS Color 4, section "Sample code for color conversions".
"""

import math
import re
from pathlib import Path

import pytest

TOKENS = (Path(__file__).parents[2] / "static/css/tokens.css").read_text()
RGB = tuple[float, float, float]

SURFACES = ["surface", "surface-raised", "surface-sunk"]
TEXT, EDGE = 4.5, 3.0
# What stands on what. A colour token that is in no pair fails the last test.
PAIRS: list[tuple[float, list[str], list[str]]] = [
    (TEXT, ["ink", "muted", "accent", "accent-strong", "attention", "pain", "good"], SURFACES),
    (TEXT, ["ink", "muted", "accent"], ["accent-soft"]),
    (TEXT, ["ink", "muted", "attention"], ["attention-soft"]),
    (TEXT, ["ink", "muted", "pain"], ["pain-soft"]),
    (TEXT, ["on-accent"], ["accent", "accent-strong"]),
    (TEXT, ["on-pain"], ["pain"]),
    (TEXT, ["on-fill"], ["fill", "fill-strong", "fill-pain"]),
    (TEXT, ["on-chosen"], ["chosen"]),
    (TEXT, ["mark", "mark-2"], ["mark-edge"]),
    (EDGE, ["line-strong", "focus", "chosen-edge"], SURFACES),
    (EDGE, ["chart-1", "chart-2", "chart-3", "chart-4"], ["surface"]),
    (EDGE, ["fill", "fill-pain"], ["surface"]),
]
# Hairlines part rows that space already parts: decoration, which 1.4.11 leaves free.
DECORATION = {"line"}


def declared(text: str) -> dict[str, str]:
    return dict(re.findall(r"--([\w-]+):\s*([^;]+);", re.sub(r"/\*.*?\*/", "", text, flags=re.S)))


ROOT, THEMED = (
    declared(re.search(pattern, TOKENS, re.S)[1])
    for pattern in (r":root \{(.*?)\n\}", r"@supports[^{]*\{\s*:root \{(.*?)\n  \}")
)
EVERY = {**declared(TOKENS.split("@media (forced-colors")[0]), **ROOT, **THEMED}


def linear(oklch: str) -> RGB:
    """Linear-light sRGB of an oklch() value, clipped to the gamut."""
    light, chroma, hue = (float(part) for part in oklch.split())
    a, b = chroma * math.cos(math.radians(hue)), chroma * math.sin(math.radians(hue))
    long = (light + 0.3963377774 * a + 0.2158037573 * b) ** 3
    middle = (light - 0.1055613458 * a - 0.0638541728 * b) ** 3
    short = (light - 0.0894841775 * a - 1.2914855480 * b) ** 3
    rows = (
        4.0767416621 * long - 3.3077115913 * middle + 0.2309699292 * short,
        -1.2684380046 * long + 2.6097574011 * middle - 0.3413193965 * short,
        -0.0041960863 * long - 0.7034186147 * middle + 1.7076147010 * short,
    )
    red, green, blue = (min(1.0, max(0.0, row)) for row in rows)
    return red, green, blue


def encoded(value: float) -> int:
    """One linear channel as 0 to 255 (sRGB transfer function, IEC 61966-2-1)."""
    bent = 12.92 * value if value <= 0.0031308 else 1.055 * value ** (1 / 2.4) - 0.055
    return round(255 * bent)


def decoded(channel: int) -> float:
    value = channel / 255
    return value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4


def from_hex(text: str) -> RGB:
    red, green, blue = (decoded(int(text[i : i + 2], 16)) for i in (0, 2, 4))
    return red, green, blue


def contrast(one: RGB, other: RGB) -> float:
    def luminance(rgb: RGB) -> float:
        return 0.2126 * rgb[0] + 0.7152 * rgb[1] + 0.0722 * rgb[2]

    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def colour(token: str, theme: str) -> RGB:
    value = EVERY[token]
    both = re.fullmatch(r"light-dark\((.+?), (.+)\)", value)
    if both:
        value = both[1 if theme == "light" else 2]
    reference = re.fullmatch(r"var\(--([\w-]+)\)", value)
    if reference:
        return colour(reference[1], theme)
    return linear(re.fullmatch(r"oklch\((.+)\)", value)[1])


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [
        ("000000", "FFFFFF", 21.0),
        ("767676", "FFFFFF", 4.54),  # the lightest grey that passes on white
        ("777777", "FFFFFF", 4.48),  # the first that fails
        ("FF0000", "FFFFFF", 4.00),
    ],
)
def test_contrast_agrees_with_known_pairs(one: str, other: str, ratio: float) -> None:
    assert contrast(from_hex(one), from_hex(other)) == pytest.approx(ratio, abs=0.005)


def test_conversion_agrees_with_the_published_palette() -> None:
    """Okabe and Ito's eight colours are published as sRGB; each stands beside our OKLCH."""
    stated = re.findall(r"--oi-\w+: oklch\((.+?)\);\s*/\* (\w{6}) \*/", TOKENS)
    assert len(stated) == 7
    for oklch, published in stated:
        ours = [encoded(channel) for channel in linear(oklch)]
        theirs = [int(published[i : i + 2], 16) for i in (0, 2, 4)]
        assert all(abs(a - b) <= 1 for a, b in zip(ours, theirs, strict=True)), (published, ours)


def test_white_and_black_are_the_ends() -> None:
    assert [encoded(channel) for channel in linear("1 0 0")] == [255, 255, 255]
    assert [encoded(channel) for channel in linear("0 0 0")] == [0, 0, 0]


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize(("least", "fronts", "backs"), PAIRS)
def test_pairs_pass(theme: str, least: float, fronts: list[str], backs: list[str]) -> None:
    poor = {
        f"{front} on {back}": round(contrast(colour(front, theme), colour(back, theme)), 2)
        for front in fronts
        for back in backs
        if contrast(colour(front, theme), colour(back, theme)) < least
    }
    assert not poor


def test_every_themed_colour_is_in_a_pair() -> None:
    paired = {token for _, fronts, backs in PAIRS for token in [*fronts, *backs]}
    assert set(THEMED) - paired == DECORATION
