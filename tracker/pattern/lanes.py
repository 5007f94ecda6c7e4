"""The lane that a bead lies in, 1 at the lower edge."""

from __future__ import annotations

from collections.abc import Mapping

from tracker.path.model import Bead, Row
from tracker.pattern.model import Pattern

BEGINNING = 4
"""Rows after which every lane has a bead."""


class Lanes:
    """The lanes of a band.

    Where each row fills them all, or has an outline of its own, they are counted row by row; else
    by the heights at which the beads of the first rows lie. Where beads lie between lanes too, as
    the sides of a net do, they count with the lane above. Rows told by hand know no lanes.
    """

    def __init__(self, pattern: Pattern) -> None:
        self._body, self._wide = pattern.body, pattern.wide
        self.known = not pattern.written
        """Whether there are lanes to speak of."""
        rows = [self._heights(pattern.row(r)) for r in range(min(BEGINNING, pattern.row_count))]
        self._by_row = bool(pattern.outline) or 0 < pattern.wide <= len(rows[-1])
        self._shared = self._numbered({y for heights in rows for y in heights})

    def across(self, row: Row) -> Mapping[float, int]:
        """The lanes of a row by their heights, mm; the last one is the upper edge."""
        return self._numbered(self._heights(row)) if self._by_row else self._shared

    def of(self, bead: Bead, row: Row) -> int:
        """The lane of a bead of that row; a cap, say, counts with the nearest one."""
        return lane_at(bead.place.y, self.across(row))

    def _heights(self, row: Row) -> set[float]:
        return {bead.place.y for bead in row.beads if bead.kind == self._body}

    def _numbered(self, heights: set[float]) -> dict[float, int]:
        number = len(heights)
        lanes = min(number, self._wide)
        return {y: -(-i * lanes // number) for i, y in enumerate(sorted(heights), start=1)}


def lane_at(y: float, across: Mapping[float, int]) -> int:
    """The lane at a height (mm), or the nearest; 0 if there is none."""
    if y in across:
        return across[y]
    return across[min(across, key=lambda height: abs(height - y))] if across else 0
