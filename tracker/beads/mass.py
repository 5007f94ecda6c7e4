"""How much a bead weighs, from its measures."""

from __future__ import annotations

from math import pi

from tracker.beads.model import Glass, Seed

GLASS = 2.5
"""Density of soda-lime glass, g/cm3 (CRC Handbook of Chemistry and Physics: common glasses
2.4 to 2.8)."""

_MM3_IN_CM3 = 1000


def _bore(diameter: float, length: float) -> float:
    return pi / 4 * diameter**2 * length


def volume(shape: Glass) -> float:
    """Glass in one bead, mm3: the outer solid less its holes.

    A tile is a box less two bores. A seed is a straight cylinder less one bore: of the plain
    solids it alone comes within 25 % of the trade's beads per gram for all five seeds. Its
    sharp rims make the larger round seeds up to about 18 % too heavy; a ring of elliptic
    section would suit those, but be 30 % too light for the cylinder bead.
    """
    if isinstance(shape, Seed):
        return _bore(shape.diameter, shape.length) - _bore(shape.hole, shape.length)
    box = shape.length * shape.passage * shape.thickness
    return box - 2 * _bore(shape.hole, shape.passage)


def grams(shape: Glass) -> float:
    """Mass of one bead, g."""
    return volume(shape) / _MM3_IN_CM3 * GLASS
