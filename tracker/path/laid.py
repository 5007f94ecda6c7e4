"""The bare threads between beads: where each lies, for the needle that goes under one of them."""

from __future__ import annotations

from math import hypot

from tracker.path.plane import Point


class Threads:
    """The middles of the threads laid so far, by the two beads that each joins."""

    def __init__(self) -> None:
        self._middles: dict[tuple[int, int], list[Point]] = {}

    def lay(self, one: int, other: int, middle: Point) -> None:
        """A thread from bead to bead, in either way; one that lies there already is the same."""
        there = self._middles.setdefault((min(one, other), max(one, other)), [])
        if middle not in there:
            there.append(middle)

    def nearest(self, one: int, other: int, needle: Point) -> Point | None:
        """The middle of that thread between two beads which is nearest to the needle, if any."""
        x, y = needle
        there = self._middles.get((min(one, other), max(one, other)), ())
        return min(there, key=lambda middle: hypot(middle[0] - x, middle[1] - y), default=None)
