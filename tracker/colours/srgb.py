"""The colours of a screen as light: `#rrggbb` to amounts of red, green and blue, and back.

The transfer function is that of IEC 61966-2-1 (sRGB); luminance and contrast are as WCAG 2.2
defines them.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

BLACK, WHITE = "#000000", "#ffffff"


class Light(NamedTuple):
    """Amounts of the three primaries, each 0 to 1, in proportion to the light."""

    red: float
    green: float
    blue: float


def light_of(colour: str) -> Light:
    """The light of `#rrggbb`."""

    def linear(part: str) -> float:
        value = int(part, 16) / 255
        return value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4

    return Light(*(linear(colour[i : i + 2]) for i in (1, 3, 5)))


def colour_of(light: Sequence[float]) -> str:
    """The nearest `#rrggbb`; what a screen cannot show is cut off at its darkest or brightest."""

    def encoded(amount: float) -> str:
        value = 12.92 * amount if amount <= 0.0031308 else 1.055 * amount ** (1 / 2.4) - 0.055
        return f"{round(255 * min(1.0, value)):02x}" if value > 0 else "00"

    return "#" + "".join(encoded(amount) for amount in light)


@lru_cache(maxsize=256)
def luminance(colour: str) -> float:
    """Relative luminance of `#rrggbb`, 0 for black to 1 for white."""
    red, green, blue = light_of(colour)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """The contrast ratio of two colours, 1 to 21."""
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


@lru_cache(maxsize=256)
def ink_on(colour: str) -> str:
    """Black or white, whichever is read better on a colour: one of them has 4.58 or more."""
    return max(BLACK, WHITE, key=lambda ink: contrast(ink, colour))
