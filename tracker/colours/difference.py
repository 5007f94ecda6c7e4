"""How different two colours look: CIEDE2000, in which about 1 is the least that a keen eye sees.

ISO/CIE 11664-6; the steps and their order are those of G. Sharma, W. Wu and E. N. Dalal, "The
CIEDE2000 color-difference formula: implementation notes, supplementary test data, and
mathematical observations", Color Research and Application 30 (2005).
"""

from __future__ import annotations

from math import atan2, cos, degrees, exp, hypot, radians, sin, sqrt
from typing import NamedTuple

from tracker.colours.srgb import Light, colour_of, light_of

# Rows are X, Y, Z of the primaries; the white that they add up to is D65 (IEC 61966-2-1).
_TO_XYZ = (
    (0.4124, 0.3576, 0.1805),
    (0.2126, 0.7152, 0.0722),
    (0.0193, 0.1192, 0.9505),
)
_FROM_XYZ = (
    (3.2406255, -1.5372080, -0.4986286),
    (-0.9689307, 1.8757561, 0.0415175),
    (0.0557101, -0.2040211, 1.0569959),
)
_WHITE = tuple(sum(row) for row in _TO_XYZ)
_KNEE = 6 / 29


class Lab(NamedTuple):
    """CIE 1976 L*a*b*, seen in daylight (D65)."""

    lightness: float
    """0 for black, 100 for white."""
    a: float
    b: float


def lab_of(colour: str) -> Lab:
    """The place of `#rrggbb`."""

    def bent(share: float) -> float:
        return share ** (1 / 3) if share > _KNEE**3 else share / (3 * _KNEE**2) + 4 / 29

    light = light_of(colour)
    x, y, z = (
        bent(sum(k * amount for k, amount in zip(row, light, strict=True)) / white)
        for row, white in zip(_TO_XYZ, _WHITE, strict=True)
    )
    return Lab(116 * y - 16, 500 * (x - y), 200 * (y - z))


def colour_at(lab: Lab) -> str:
    """The nearest `#rrggbb` that a screen shows; it may lie off where the place is outside."""

    def straight(value: float) -> float:
        return value**3 if value > _KNEE else 3 * _KNEE**2 * (value - 4 / 29)

    y = (lab.lightness + 16) / 116
    bent = (y + lab.a / 500, y, y - lab.b / 200)
    xyz = [white * straight(value) for white, value in zip(_WHITE, bent, strict=True)]
    return colour_of(
        Light(*(sum(k * v for k, v in zip(row, xyz, strict=True)) for row in _FROM_XYZ))
    )


def difference(one: str, other: str) -> float:
    """How different `#rrggbb` and `#rrggbb` look: 0 for the same, about 100 for black and white."""
    return ciede2000(lab_of(one), lab_of(other))


def ciede2000(one: Lab, other: Lab) -> float:
    """The difference of two places, all parametric factors 1."""
    mean_chroma = (hypot(one.a, one.b) + hypot(other.a, other.b)) / 2
    stretch = 1.5 - sqrt(_saturated(mean_chroma)) / 2
    a1, a2 = one.a * stretch, other.a * stretch
    c1, c2 = hypot(a1, one.b), hypot(a2, other.b)
    h1, h2 = degrees(atan2(one.b, a1)) % 360, degrees(atan2(other.b, a2)) % 360

    turn, hue = _between(h1, h2) if c1 * c2 else (0.0, h1 + h2)
    by_lightness = other.lightness - one.lightness
    by_chroma = c2 - c1
    by_hue = 2 * sqrt(c1 * c2) * sin(radians(turn / 2))

    off_middle = ((one.lightness + other.lightness) / 2 - 50) ** 2
    chroma = (c1 + c2) / 2
    weight = (
        1
        - 0.17 * cos(radians(hue - 30))
        + 0.24 * cos(radians(2 * hue))
        + 0.32 * cos(radians(3 * hue + 6))
        - 0.20 * cos(radians(4 * hue - 63))
    )
    lightness_part = by_lightness / (1 + 0.015 * off_middle / sqrt(20 + off_middle))
    chroma_part = by_chroma / (1 + 0.045 * chroma)
    hue_part = by_hue / (1 + 0.015 * chroma * weight)
    # In the blues a change of chroma and one of hue are seen as one.
    blues = 60 * exp(-(((hue - 275) / 25) ** 2))
    coupling = -sin(radians(blues)) * 2 * sqrt(_saturated(chroma))
    return sqrt(
        lightness_part**2 + chroma_part**2 + hue_part**2 + coupling * chroma_part * hue_part
    )


def _saturated(chroma: float) -> float:
    return chroma**7 / (chroma**7 + 25.0**7)


def _between(h1: float, h2: float) -> tuple[float, float]:
    """The turn from hue to hue by the shorter way round, and the hue half way; degrees."""
    turn, mean = h2 - h1, (h1 + h2) / 2
    if abs(turn) <= 180:
        return turn, mean
    return turn + (360 if turn < 0 else -360), mean + (180 if mean < 180 else -180)
