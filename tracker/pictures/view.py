"""Which part of the plane a picture shows."""

from __future__ import annotations

import math

from tracker.path.plane import Point
from tracker.records import record

LEAST_SCALE, MOST_SCALE = 1.3, 2.6
"""Rows of cells to a millimetre: below, holes run into each other; above, little is gained."""
ROUNDING = 1e-6
"""Of lengths so small, mm, nothing can be seen."""
STRIDE = 0.25
"""The share of its height that a view goes across a wide band at a time, at most."""
AT = 0.62
"""The share of the width of a view at which its focus stands."""


@record
class View:
    """Which part of the plane the cells show."""

    width: int
    height: int
    """In cells."""
    scale: float
    """Rows of cells to a millimetre."""
    left: float
    top: float
    """x of the left edge and y of the upper one, mm."""

    def cell(self, point: Point) -> tuple[int, int]:
        """Column and row of the cell in which a point lies; it may be outside."""
        x, y = self.pixel(point)
        return (math.floor(x / 2), math.floor(y / 2))

    def middle(self, point: Point) -> Point:
        """The middle of the cell in which a point lies, in the plane."""
        column, row = self.cell(point)
        return (
            self.left + (column + 0.5) / (2 * self.scale),
            self.top - (row + 0.5) / self.scale,
        )

    def pixel(self, point: Point) -> Point:
        """A point in pixels, from the upper left."""
        return ((point[0] - self.left) * 4 * self.scale, (self.top - point[1]) * 2 * self.scale)


def scale_for(height: int, low: float, high: float, least: float = LEAST_SCALE) -> float:
    """Rows of cells to a millimetre at which `height` rows show from y = `low` to `high` (mm)."""
    return min(MOST_SCALE, max(least, height / (high - low)))


def view_for(
    width: int,
    height: int,
    *,
    low: float,
    high: float,
    focus: Point,
    least: float = LEAST_SCALE,
) -> View:
    """A view of `width` x `height` cells of a band that reaches from y = `low` to `high` (mm).

    The whole width of the band is shown if it can be; else the part around the focus is. The
    focus stands at the share `AT` of the width, so that the finished work is seen behind it.
    """
    scale = scale_for(height, low, high, least)
    tall, wide = height / scale, width / (2 * scale)
    hidden = high - low - tall
    if hidden <= ROUNDING:  # a scale made to fit does so up to rounding
        top = (high + low + tall) / 2
    else:
        # It goes with the move in strides, so that it stays still for some steps.
        strides = math.ceil(hidden / (tall * STRIDE))
        above = min(hidden, max(0.0, high - (focus[1] + tall / 2)))
        top = high - hidden * round(strides * above / hidden) / strides
    return View(width, height, scale, focus[0] - AT * wide, top)
