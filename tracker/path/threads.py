"""Where the bare thread between two beads lies, for whoever goes under it."""

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
    """The threads laid so far, by the two beads that each lies between; of several the first.

    `around` is the girth of a tube (mm), round which a thread lies the shorter way.
    """

    def __init__(self, around: float = 0.0) -> None:
        self._around = around
        self._ends: dict[tuple[int, int], Line] = {}

    def lay(self, one: int, at_one: Point, other: int, at_other: Point) -> None:
        """The thread goes from mouth to mouth."""
        if one < other:
            self._ends.setdefault((one, other), (at_one, at_other))
        else:
            self._ends.setdefault((other, one), (at_other, at_one))

    def hang(self, bead: int, mouth: Point, held: tuple[int, int]) -> None:
        """The thread goes from a bead's mouth to the one that it has gone under.

        So it also lies between that bead and each of the two that hold it.
        """
        held = (min(held), max(held))
        for holding, end in zip(held, self._ends[held], strict=True):
            if holding != bead:
                self.lay(bead, mouth, holding, end)

    def between(self, one: int, other: int) -> Line | None:
        """The thread between two beads, laid in one piece; None where there is none."""
        ends = self._ends.get((min(one, other), max(one, other)))
        if ends is None:
            return None
        start, (x, y) = ends
        return (start, (x, start[1] + nearer(y - start[1], self._around)))
