"""Write a thread path down in the order in which it is woven.

A stitch says what the needle does (`pick_up`, `go_through`, `pass_by`, `end_step`, `end_row`);
the builder numbers the beads and measures the thread.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from tracker.beads.model import Shape
from tracker.path.model import Bead, Heading, Hole, Pass, Place, Row, Step, ThreadPath, Under
from tracker.path.notes import Note
from tracker.path.plane import Mouths, Point, first_hole, nearer


class PathBuilder:
    """A thread path in the making. Beads are returned by number; holes are "", "a" or "b".

    `around` is the girth of a tube (mm); `goes_under` says that threads are gone under.
    """

    def __init__(
        self, shapes: Mapping[str, Shape], *, around: float = 0.0, goes_under: bool = False
    ) -> None:
        self._shapes = shapes
        self._around = around
        self._goes_under = goes_under
        self._mouths = Mouths(shapes)
        self._rows: list[Row] = []
        self._beads: list[Bead] = []
        self._steps: list[Step] = []
        self._passes: list[Pass] = []
        self._pass_by: list[int] = []
        self._under: list[Under] = []
        self._threads: dict[tuple[int, int], Point] = {}
        self._row_beads: list[Bead] = []
        self._heading: Heading = "up"
        self._section = ""
        self._origin = 0.0
        self._thread = 0.0
        self._out: Point | None = None
        self._last = -1

    def start_row(self, section: str, heading: Heading, origin: float) -> None:
        """Begin a row; places given from now on are absolute, `origin` (mm) is its own zero."""
        self._section, self._heading, self._origin = section, heading, origin

    def pick_up(self, shape: str, colour: str, place: Place, *, back: bool = False) -> int:
        """Thread a new bead, one with two holes by its hole a, and return its number."""
        measures = self._shapes[shape]
        kind = measures.kind
        bead = Bead(len(self._beads), kind, shape, colour, place)
        self._beads.append(bead)
        self._row_beads.append(bead)
        self._pass(bead, first_hole(measures), back=back, picked_up=True)
        return bead.id

    def go_through(self, bead: int, hole: Hole = "", *, back: bool = False) -> None:
        """Go through a bead that is there already; `back` against the row's heading."""
        self._pass(self._beads[bead], hole, back=back, picked_up=False)

    def pass_by(self, bead: int) -> None:
        """Mark a bead that this step must not go through."""
        self._pass_by.append(bead)

    def go_under(self, one: int, other: int) -> None:
        """Go under the thread between two beads, which must have gone from one to the other."""
        self._under.append(Under(len(self._passes), (one, other)))
        middle = self._threads[min(one, other), max(one, other)]
        assert self._out is not None, "something is strung"
        self._thread += self._apart(self._out, middle)
        self._out = middle

    def note(self, note: Note) -> None:
        """A step of its own without a bead; with "tail" the thread goes on from its first end."""
        self._steps.append(Step((), note=note))
        if note == "tail":
            first = self._rows[0].steps[0].passes[0]
            in_x, in_y, _, _ = self._mouths.ends(self._beads[first.bead], first.hole, first.up)
            self._out = (in_x, in_y)

    def end_step(self, *, turn: bool = False) -> None:
        """Close the movement."""
        self._steps.append(
            Step(tuple(self._passes), turn, tuple(self._pass_by), under=tuple(self._under))
        )
        self._passes, self._pass_by, self._under = [], [], []

    def end_row(self) -> None:
        """Close the row."""
        self._rows.append(
            Row(
                number=len(self._rows) + 1,
                section=self._section,
                heading=self._heading,
                origin=self._origin,
                beads=tuple(self._row_beads),
                steps=tuple(self._steps),
                thread=round(self._thread, 1),
            )
        )
        self._row_beads, self._steps, self._thread = [], [], 0.0

    def path(self) -> ThreadPath:
        """What has been woven."""
        return ThreadPath(self._shapes, tuple(self._rows), self._around)

    def _pass(self, bead: Bead, hole: Hole, *, back: bool, picked_up: bool) -> None:
        up = (self._heading == "up") != back
        self._passes.append(Pass(bead.id, hole, up, picked_up))
        in_x, in_y, out_x, out_y = self._mouths.ends(bead, hole, up)
        if self._out is not None:
            self._thread += self._apart(self._out, (in_x, in_y))
            if self._goes_under and self._last != bead.id:
                key = (min(self._last, bead.id), max(self._last, bead.id))
                middle = ((in_x + self._out[0]) / 2, (in_y + self._out[1]) / 2)
                self._threads.setdefault(key, middle)
        self._thread += self._shapes[bead.shape].passage
        self._out, self._last = (out_x, out_y), bead.id

    def _apart(self, one: Point, other: Point) -> float:
        """The bare thread from point to point, round a tube the shorter way (mm)."""
        return math.hypot(one[0] - other[0], nearer(one[1] - other[1], self._around))
