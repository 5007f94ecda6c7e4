"""The rows of a band as kinds that differ by nothing but where they lie along it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cached_property
from math import inf

from tracker.beads.model import Shape
from tracker.path.model import Bead, Place
from tracker.path.plane import Point
from tracker.pattern.model import Pattern
from tracker.pattern.notation import PICKED_UP
from tracker.pictures.outlines import corners
from tracker.pictures.symbols import size_of
from tracker.records import record


@record
class RowKind:
    """Rows that look alike: their beads, x counted from the row's own zero."""

    beads: tuple[Bead, ...]
    left: float
    right: float
    low: float
    high: float
    """How far the beads' outlines reach, mm."""


@record(slots=False)
class WholeBand:
    """The rows `first` to `last` (from 0, both drawn) of a pattern."""

    pattern: Pattern
    first: int
    last: int

    @property
    def shapes(self) -> Mapping[str, Shape]:
        """Shapes by their names."""
        return self.pattern.by_name

    @cached_property
    def origins(self) -> tuple[float, ...]:
        """Where each row's own zero lies along the band, mm."""
        lines = self.pattern.lines[self.first : self.last + 1]
        return tuple(float(line.split(" ", 4)[3]) for line in lines)

    @cached_property
    def kinds(self) -> tuple[RowKind, ...]:
        """The different rows, in the order in which they first come."""
        return self._sorted_out[0]

    @cached_property
    def kind_of(self) -> tuple[int, ...]:
        """Which kind each row is of."""
        return self._sorted_out[1]

    @cached_property
    def _sorted_out(self) -> tuple[tuple[RowKind, ...], tuple[int, ...]]:
        kinds: list[RowKind] = []
        known: dict[tuple[str, tuple[str, ...]], int] = {}
        kind_of = []
        for number in range(self.first, self.last + 1):
            # Only one row of a kind is decoded: of 2,000 rows there are often two.
            head, _, moves = self.pattern.lines[number].partition(": ")
            key = (head.split(" ")[4], tuple(PICKED_UP.findall(moves)))
            if key not in known:
                known[key] = len(kinds)
                kinds.append(self._kind(number))
            kind_of.append(known[key])
        return tuple(kinds), tuple(kind_of)

    def _kind(self, number: int) -> RowKind:
        row = self.pattern.row(number)
        beads = tuple(
            bead._replace(
                place=Place(round(bead.place.x - row.origin, 2), bead.place.y, bead.place.tilt)
            )
            for bead in row.beads
        )
        points = [point for bead in beads for point in outline(bead, self.shapes[bead.shape])]
        xs, ys = [x for x, _ in points], [y for _, y in points]
        if not beads:  # a row that only goes along finished work reaches nowhere
            return RowKind((), inf, -inf, inf, -inf)
        return RowKind(beads, min(xs), max(xs), min(ys), max(ys))

    @cached_property
    def extent(self) -> tuple[float, float, float, float]:
        """How far the beads reach: left, right, low, high, mm."""
        rows = [self.kinds[kind] for kind in self.kind_of]
        return (
            min(x + row.left for x, row in zip(self.origins, rows, strict=True)),
            max(x + row.right for x, row in zip(self.origins, rows, strict=True)),
            min(kind.low for kind in self.kinds),
            max(kind.high for kind in self.kinds),
        )

    def thread(self) -> Iterator[tuple[Point, ...]]:
        """The way of the thread, mouth to mouth, row by row; each begins where the last ended."""
        mouths = self.pattern.mouths
        near: dict[int, Bead] = {}
        last: tuple[Point, ...] = ()
        # A row goes through beads of the two rows before it.
        for number in range(max(0, self.first - 2), self.last + 1):
            row = self.pattern.row(number)
            near |= {bead.id: bead for bead in row.beads}
            points = list(last)
            if number >= self.first:
                for step in row.steps:
                    if step.note == "tail":  # the thread goes on from where it began
                        points = []
                    for bead, hole, up, _ in step.passes:
                        # At the ends the needle may go further back than two rows.
                        lies = near.get(bead) or self.pattern.bead(bead)
                        in_x, in_y, out_x, out_y = mouths.ends(lies, hole, up)
                        points += [(in_x, in_y), (out_x, out_y)]
                yield tuple(points)
                last = tuple(points[-1:])
            oldest = self.pattern.first_beads[max(0, number - 1)]
            near = {bead: found for bead, found in near.items() if bead >= oldest}


def outline(bead: Bead, shape: Shape) -> tuple[Point, ...]:
    """The corners of a bead, mm."""
    long, wide, _ = size_of(shape)
    return corners(bead, long, wide)
