"""The bare threads between beads: where each lies, for the needle that goes under one of them."""

from __future__ import annotations

from math import hypot

from tracker.path.plane import Point, nearer

Line = tuple[Point, Point]
"""A bare thread from mouth to mouth, mm."""


def middle_of(line: Line) -> Point:
    """The middle of a thread."""
    (x, y), (to_x, to_y) = line
    return ((x + to_x) / 2, (y + to_y) / 2)


def away_from(line: Line, point: Point) -> float:
    """How far a point is from the nearest part of a thread, mm."""
    (x, y), (to_x, to_y) = line
    long, wide = to_x - x, to_y - y
    square = long * long + wide * wide
    along = ((point[0] - x) * long + (point[1] - y) * wide) / square if square else 0.0
    share = min(1.0, max(0.0, along))
    return hypot(x + share * long - point[0], y + share * wide - point[1])


class Threads:
    """The threads laid so far, by the two beads that each lies between.

    `around` is the girth of a tube (mm), round which a thread lies the shorter way.
    """

    def __init__(self, around: float = 0.0) -> None:
        self._around = around
        self._lines: dict[tuple[int, int], list[Line]] = {}

    def lay(self, one: int, at_one: Point, other: int, at_other: Point) -> None:
        """The thread goes from mouth to mouth; one that lies there already is the same."""
        line = (at_one, at_other) if one < other else (at_other, at_one)
        there = self._lines.setdefault((min(one, other), max(one, other)), [])
        if line not in there:
            there.append(line)

    def hang(self, bead: int, mouth: Point, held: tuple[int, int], line: Line) -> None:
        """The thread goes from a bead's mouth to a `line` between two others, and under it.

        So it also lies between that bead and each of the two, where no other thread does.
        """
        for holding, end in zip((min(held), max(held)), line, strict=True):
            if holding != bead and (min(bead, holding), max(bead, holding)) not in self._lines:
                self.lay(bead, mouth, holding, end)

    def nearest(self, one: int, other: int, needle: Point) -> Line | None:
        """That thread between two beads which is nearest to the needle, laid in one piece.

        None where there is none. It begins at the bead with the lower number.
        """
        there = self._lines.get((min(one, other), max(one, other)), ())
        lines = (self._beside(line, needle) for line in there)
        return min(lines, key=lambda line: away_from(line, needle), default=None)

    def _beside(self, line: Line, needle: Point) -> Line:
        """A thread on a tube as often round as it takes to come to the needle."""
        (x, y), (to_x, to_y) = line
        beside = needle[1] + nearer(y - needle[1], self._around)
        return ((x, beside), (to_x, beside + nearer(to_y - y, self._around)))
