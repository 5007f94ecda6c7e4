"""Where the bare thread between two beads lies, for whoever goes under it."""

from __future__ import annotations

from tracker.path.plane import Point, nearer


class Threads:
    """The threads laid so far, by the two beads that each lies between; of several the first.

    `around` is the girth of a tube (mm), round which a thread lies the shorter way.
    """

    def __init__(self, around: float = 0.0) -> None:
        self._around = around
        self._ends: dict[tuple[int, int], tuple[Point, Point]] = {}

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

    def middle(self, one: int, other: int) -> Point | None:
        """The middle of the thread between two beads; None where there is none."""
        ends = self._ends.get((min(one, other), max(one, other)))
        if ends is None:
            return None
        (x, y), (to_x, to_y) = ends
        return ((x + to_x) / 2, y + nearer(to_y - y, self._around) / 2)
