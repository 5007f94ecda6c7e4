"""Rule 6: the beads hang together, in the plane, and by more than one bead.

Beads are the points of a graph, spans of thread between consecutive passes its lines; a thread
that is gone under has a point in its middle, and what hangs on it is joined to that. One
thread makes it one piece as long as every bead is on it. For the rest the lines are ordered
round each bead by the angle at which they leave it; that order is a drawing on some surface,
and tracing its faces tells which one:

- Euler's formula V - E + F = 2 holds if and only if the surface is a sphere, that is, if the
  drawing is plane. The order is then a certificate that the graph is planar.
- In a connected plane drawing a bead whose removal parts the graph is met twice on the way
  round one face, and the other way about.

Both take one walk along every line in either direction, so the proof grows in step with the
band (see e.g. Mohar and Thomassen, Graphs on Surfaces, 2001, chapters 2 and 3).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import accumulate
from math import atan2
from types import MappingProxyType

from tracker.path.laid import Line, middle_of
from tracker.path.plane import Point, nearer
from tracker.path.proof.planar import plane_order
from tracker.path.proof.trace import Fault, Trace


def hang_together(
    trace: Trace,
    hinges: frozenset[int] | None,
    under: Mapping[int, Line] = MappingProxyType({}),
    *,
    drawn: bool = True,
) -> list[Fault]:
    """Faults of rule 6; `hinges` are the beads that may hold a part of the work alone.

    None stands for any bead. `under` are the threads that the needle goes under, by the pass after
    it. Where the places are not `drawn` by a stitch, some plane drawing must be there to be found.
    """
    around = _lines_in_order(trace, under)
    flat, met_twice = _lies_flat(around)
    if not flat and not drawn:
        flat, met_twice = _lies_flat(plane_order(around) or around)
    if not flat:
        # The faces of another surface say nothing of what falls off.
        what = "the thread crosses itself: the beads and spans do not lie flat in the plane"
        return [Fault(6, 0, 0, what)]
    return [
        Fault(6, 0, 0, f"without {trace.named(bead)} alone a part of the work falls off")
        for bead in sorted(set() if hinges is None else met_twice - hinges)
        if bead >= 0
    ]


def _lies_flat(around: dict[int, list[int]]) -> tuple[bool, set[int]]:
    """Whether an order of the lines is a plane drawing, and the points met twice on one face."""
    faces, met_twice = _trace_faces(around)
    lines = sum(len(ends) for ends in around.values()) // 2
    return len(around) <= 1 or len(around) - lines + faces == 2, met_twice


def holding_alone(trace: Trace, under: Mapping[int, Line]) -> frozenset[int]:
    """The beads each of which holds a part of the work alone, in some plane drawing of it."""
    around = _lines_in_order(trace, under)
    flat, met_twice = _lies_flat(around)
    if not flat:
        _, met_twice = _lies_flat(plane_order(around) or around)
    return frozenset(bead for bead in met_twice if bead >= 0)


def _lines_in_order(trace: Trace, under: Mapping[int, Line]) -> dict[int, list[int]]:
    """The points next to each along the thread, counter-clockwise.

    Where two beads are joined by several spans the first one counts.
    """
    if under:
        return _Lines(trace, under).in_order()
    # Most bands go under no thread, and a long one has a million ends.
    beads, tube = trace.beads, trace.path.around
    around: dict[int, dict[int, float]] = {}
    last: int | None = None
    out_x = out_y = 0.0
    for i, ((bead, _, _, _), (in_x, in_y, next_x, next_y)) in enumerate(
        zip(trace.passes, trace.ends, strict=True)
    ):
        if i == trace.tail:
            last, _, out_x, out_y = trace.before(i)
        here = around.setdefault(bead, {})
        if last is not None and last != bead and last not in here:
            # Two spans may leave one mouth, so each is told by its far end.
            x, y, _ = beads[bead].place
            x_last, y_last, _ = beads[last].place
            if tube:
                here[last] = atan2(nearer(out_y - y, tube), out_x - x)
                around[last][bead] = atan2(nearer(in_y - y_last, tube), in_x - x_last)
            else:
                here[last] = atan2(out_y - y, out_x - x)
                around[last][bead] = atan2(in_y - y_last, in_x - x_last)
        last, out_x, out_y = bead, next_x, next_y
    return {bead: sorted(by_angle, key=by_angle.__getitem__) for bead, by_angle in around.items()}


@dataclass(slots=True)
class _Line:
    """A line between two points of the graph, and the point that parts it once it is gone under."""

    ends: tuple[int, int]
    is_span: bool
    parted: int | None = None


class _Lines:
    """The points next to each point along the thread.

    Points from 0 are beads; the others, below 0, are the middles of threads that are gone under.
    Such a middle parts its thread in two lines, and what hangs on it is joined to it: a drawing
    of beads and threads, in which nothing that crosses goes unseen.
    """

    def __init__(self, trace: Trace, under: Mapping[int, Line]) -> None:
        self._trace, self._under = trace, under
        self._around: dict[int, dict[int, float]] = {}
        self._lies: dict[int, Point] = {}
        self._threads: dict[tuple[int, int], _Line] = {}
        self._hanging: dict[tuple[int, int], _Line] = {}
        self._parted = 0

    def in_order(self) -> dict[int, list[int]]:
        """The points next to each, counter-clockwise.

        Where two beads are joined by several spans the first one counts.
        """
        trace = self._trace
        last: int | None = None
        out = (0.0, 0.0)
        for i, ((bead, _, _, _), (in_x, in_y, next_x, next_y)) in enumerate(
            zip(trace.passes, trace.ends, strict=True)
        ):
            if i == trace.tail:
                last, _, *tail = trace.before(i)
                out = (tail[0], tail[1])
            self._around.setdefault(bead, {})
            if bead not in self._lies:
                self._lies[bead] = trace.beads[bead].place[:2]
            if i in trace.under:
                self._hang({bead, bead if last is None else last}, trace.under[i], i)
            elif last is not None and last != bead:
                self._span(last, out, bead, (in_x, in_y))
            last, out = bead, (next_x, next_y)
        return {
            point: sorted(by_angle, key=by_angle.__getitem__)
            for point, by_angle in self._around.items()
        }

    def _span(self, one: int, at_one: Point, other: int, at_other: Point) -> None:
        key = (min(one, other), max(one, other))
        known = self._threads.get(key)
        if known is None or not known.is_span:
            self._threads[key] = _Line((one, other), is_span=True)
            # Two spans may leave one mouth, so each is told by its far end.
            self._join(one, at_other, other, at_one)

    def _hang(self, ends: set[int], held: tuple[int, int], at: int) -> None:
        """Join `ends` to the middle of the thread between two beads."""
        line = self._threads[min(held), max(held)]
        if line.parted is None:
            self._part(line, middle_of(self._under[at]))
        middle = line.parted
        assert middle is not None
        for end in ends - set(held):
            hanging = self._hanging.get((end, middle))
            if hanging is None:
                self._join(end, self._lies[middle], middle, self._lies[end])
                hanging = self._hanging[end, middle] = _Line((end, middle), is_span=False)
            for bead in held:
                self._threads.setdefault((min(end, bead), max(end, bead)), hanging)

    def _part(self, line: _Line, place: Point) -> None:
        middle = line.parted = -1 - self._parted
        self._parted += 1
        self._lies[middle] = place
        self._around[middle] = {}
        for end, other in (line.ends, line.ends[::-1]):
            self._around[end][middle] = self._around[end].pop(other)
            self._around[middle][end] = self._angle(place, self._lies[end])

    def _join(self, one: int, towards_other: Point, other: int, towards_one: Point) -> None:
        self._around[one][other] = self._angle(self._lies[one], towards_other)
        self._around[other][one] = self._angle(self._lies[other], towards_one)

    def _angle(self, start: Point, end: Point) -> float:
        across = nearer(end[1] - start[1], self._trace.path.around)
        return atan2(across, end[0] - start[0])


def _trace_faces(around: dict[int, list[int]]) -> tuple[int, set[int]]:
    """Count the faces and find the beads that one face meets twice.

    Every line counts in either direction, and all ways are numbered through: those out of one bead
    come one after the other. So a walk round a face is a walk along a list.
    """
    number = {bead: i for i, bead in enumerate(around)}
    first_way = [0, *accumulate(map(len, around.values()))]
    leads_to: list[int] = []
    follow: list[int] = []
    for bead, ends in around.items():
        for other in ends:
            there = number[other]
            back = around[other]
            before = back.index(bead) - 1
            leads_to.append(there)
            follow.append(first_way[there] + (before if before >= 0 else len(back) - 1))
    faces = 0
    met_twice: set[int] = set()
    walked = bytearray(len(follow))
    seen_in = [0] * len(number)
    for start in range(len(follow)):
        if walked[start]:
            continue
        faces += 1
        way = start
        while not walked[way]:
            walked[way] = 1
            bead = leads_to[way]
            if seen_in[bead] == faces:
                met_twice.add(bead)
            seen_in[bead] = faces
            way = follow[way]
    beads = list(number)
    return faces, {beads[i] for i in met_twice}
