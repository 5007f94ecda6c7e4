"""Write a thread path down in the order in which it is woven.

A stitch says what the needle does (`pick_up`, `go_through`, `pass_by`, `end_step`, `end_row`);
the builder numbers the beads and measures the thread.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from itertools import accumulate, chain, repeat

from tracker.beads.model import Shape
from tracker.path.laid import Line, Threads, middle_of
from tracker.path.model import (
    Bead,
    Heading,
    Hole,
    Pass,
    Place,
    Row,
    Step,
    ThreadPath,
    Under,
    new_bead,
    new_pass,
    new_place,
    new_step,
)
from tracker.path.notes import Note
from tracker.path.plane import Mouths, Point, first_hole, nearer
from tracker.records import record


@record
class _Moves:
    """What a row has in common with those that repeat it, its beads counted from its first."""

    kinds: tuple[str, ...]
    shapes: tuple[str, ...]
    heights: tuple[float, ...]
    """Y of each bead, mm."""
    tilts: tuple[float, ...]
    through: tuple[int, ...]
    """The bead of each pass."""
    holes: tuple[Hole, ...]
    ups: tuple[bool, ...]
    picked_up: tuple[bool, ...]
    pass_by: tuple[int, ...]
    turns: tuple[bool, ...]
    """Of each step."""
    passes_in: tuple[slice, ...]
    """Which of the passes are those of each step."""
    pass_by_in: tuple[slice, ...]
    """The same of the beads that are passed by."""

    @classmethod
    def of(cls, row: Row) -> _Moves:
        """The moves of a row that goes under no thread."""
        first = row.beads[0].id
        _, kinds, shapes, _, places = zip(*row.beads, strict=True)
        _, heights, tilts = zip(*places, strict=True)
        passes = chain.from_iterable(step.passes for step in row.steps)
        beads, holes, ups, picked_up = zip(*passes, strict=True)
        return cls(
            kinds=kinds,
            shapes=shapes,
            heights=heights,
            tilts=tilts,
            through=tuple(bead - first for bead in beads),
            holes=holes,
            ups=ups,
            picked_up=picked_up,
            pass_by=tuple(bead - first for step in row.steps for bead in step.pass_by),
            turns=tuple(step.turn for step in row.steps),
            passes_in=_parts([len(step.passes) for step in row.steps]),
            pass_by_in=_parts([len(step.pass_by) for step in row.steps]),
        )


def _parts(lengths: Sequence[int]) -> tuple[slice, ...]:
    """The parts, one behind the other, of so many each."""
    return tuple(
        slice(end - length, end) for length, end in zip(lengths, accumulate(lengths), strict=True)
    )


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
        self._threads = Threads(around)
        self._moves: dict[int, _Moves] = {}
        self._held: tuple[tuple[int, int], Line] | None = None
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
        assert self._out is not None, "something is strung"
        line = self._threads.nearest(one, other, self._out)
        assert line is not None, "a thread lies there"
        self._threads.hang(self._last, self._out, (one, other), line)
        middle = middle_of(line)
        self._thread += self._apart(self._out, middle)
        self._out, self._held = middle, ((one, other), line)

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

    def again(self, back: int, colours: Sequence[str], last: Sequence[Place]) -> None:
        """The row `back` rows ago once more: the same moves, with beads that come so many later.

        The row begun last is closed by it. Its new beads have these colours, in the order of
        picking up; the last ones lie at `last`, the others at the row's own zero as before. A row
        that goes under no thread takes as much thread.
        """
        row = self._rows[-back]
        moves = self._moves.pop(row.number, None) or _Moves.of(row)
        self._moves[len(self._rows) + 1] = moves
        first, there = len(self._beads), len(row.beads) - len(last)
        x = repeat(self._origin, there)
        lies = zip(x, moves.heights[:there], moves.tilts[:there], strict=True)
        places = chain(map(new_place, lies), last)
        numbers = range(first, first + len(row.beads))
        told = zip(numbers, moves.kinds, moves.shapes, colours, places, strict=True)
        beads = tuple(map(new_bead, told))
        self._beads += beads
        through = map(first.__add__, moves.through)
        gone = zip(through, moves.holes, moves.ups, moves.picked_up, strict=True)
        passes = tuple(map(new_pass, gone))
        pass_by = tuple(map(first.__add__, moves.pass_by))
        by_step = zip(
            map(passes.__getitem__, moves.passes_in),
            moves.turns,
            map(pass_by.__getitem__, moves.pass_by_in),
            repeat("", len(moves.turns)),
            repeat((), len(moves.turns)),
            strict=True,
        )
        steps = tuple(map(new_step, by_step))
        self._rows.append(
            Row(
                number=len(self._rows) + 1,
                section=self._section,
                heading=self._heading,
                origin=self._origin,
                beads=beads,
                steps=steps,
                thread=row.thread,
            )
        )
        bead, hole, up, _ = steps[-1].passes[-1]
        self._out = self._mouths.ends(self._beads[bead], hole, up)[2:]
        self._last = bead

    def path(self) -> ThreadPath:
        """What has been woven."""
        return ThreadPath(self._shapes, tuple(self._rows), self._around)

    def _pass(self, bead: Bead, hole: Hole, *, back: bool, picked_up: bool) -> None:
        up = (self._heading == "up") != back
        self._passes.append(Pass(bead.id, hole, up, picked_up))
        in_x, in_y, out_x, out_y = self._mouths.ends(bead, hole, up)
        if self._out is not None:
            self._thread += self._apart(self._out, (in_x, in_y))
            if self._held is not None:
                self._threads.hang(bead.id, (in_x, in_y), *self._held)
                self._held = None
            elif self._goes_under and self._last != bead.id:
                self._threads.lay(self._last, self._out, bead.id, (in_x, in_y))
        self._thread += self._shapes[bead.shape].passage
        self._out, self._last = (out_x, out_y), bead.id

    def _apart(self, one: Point, other: Point) -> float:
        """The bare thread from point to point, round a tube the shorter way (mm)."""
        return math.hypot(one[0] - other[0], nearer(one[1] - other[1], self._around))
