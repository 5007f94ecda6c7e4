"""Beads as pixels: each kind of bead is worked out once, and put down wherever one lies.

Pixels are counted from the upper left; a pixel belongs to an outline if its middle lies in it.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import NamedTuple

from tracker.path.plane import Point
from tracker.pictures.outlines import ellipse, oblong

PARTS = 4
"""Places in a pixel, each way, at which a bead's middle can lie: a quarter is not to be seen."""


class Layer(NamedTuple):
    """One outline of a bead, filled with one colour."""

    is_round: bool
    across: float
    """Size square to the hole, mm."""
    along: float
    """Size along the hole, mm."""
    colour: int

    def outline(self, tilt: float) -> tuple[Point, ...]:
        """Its corners round 0, mm."""
        if self.is_round:
            return ellipse(self.across / 2, self.along / 2, tilt)
        return oblong(self.across, self.along, tilt)


class Layers:
    """The outlines of a bead, the lowest first, each within that below it.

    They are told apart as objects, which is quicker than by what is in them.
    """

    def __init__(self, *parts: Layer) -> None:
        self.parts = parts


class Stamp(NamedTuple):
    """A bead in pixels: runs of them by row, first column and column behind, and the box of all."""

    runs: tuple[tuple[int, int, int, bytes], ...]
    top: int
    bottom: int
    left: int
    right: int


@lru_cache(maxsize=4096)
def stamp(layers: Layers, tilt: float, scale: float, right: int, down: int) -> Stamp:
    """A bead of these layers, its middle in the pixel at row 0, column 0.

    `scale` is in rows of cells to a millimetre, so in half rows of pixels and quarter columns;
    the middle lies `right` and `down` of the pixel's corner, in `PARTS` of it.
    """
    rows: dict[int, tuple[int, bytearray]] = {}
    for layer in layers.parts:
        outline = [
            (x * 4 * scale + right / PARTS, down / PARTS - y * 2 * scale)
            for x, y in layer.outline(tilt)
        ]
        for row, first, end in spans(outline):
            start, run = rows.setdefault(row, (first, bytearray(end - first)))
            run[first - start : end - start] = bytes([layer.colour]) * (end - first)
    runs = tuple((row, start, start + len(run), bytes(run)) for row, (start, run) in rows.items())
    if not runs:  # it is smaller than a pixel, and no pixel's middle lies in it
        return Stamp((), 0, 0, 0, 0)
    return Stamp(
        runs,
        top=min(rows),
        bottom=max(rows) + 1,
        left=min(start for _, start, _, _ in runs),
        right=max(end for _, _, end, _ in runs),
    )


def spans(outline: list[Point]) -> list[tuple[int, int, int]]:
    """The pixels of a convex polygon: row, first column, column behind the last."""
    # The pixel rows whose middles lie below each corner.
    rows = [math.ceil(y - 0.5) for _, y in outline]
    # The leftmost and the rightmost place at which the outline crosses the middle of each row.
    least: dict[int, float] = {}
    most: dict[int, float] = {}
    (x1, y1), row1 = outline[-1], rows[-1]
    for (x2, y2), row2 in zip(outline, rows, strict=True):
        for row in range(min(row1, row2), max(row1, row2)):
            x = x1 + (x2 - x1) * (row + 0.5 - y1) / (y2 - y1)
            least[row] = min(x, least.get(row, x))
            most[row] = max(x, most.get(row, x))
        x1, y1, row1 = x2, y2, row2
    found = ((row, math.ceil(x - 0.5), math.ceil(most[row] - 0.5)) for row, x in least.items())
    return [(row, first, end) for row, first, end in found if first < end]
