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

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import accumulate
from math import atan2
from types import MappingProxyType
from typing import NamedTuple, TypeVar

from tracker.path.laid import Line, middle_of
from tracker.path.plane import Point, nearer
from tracker.path.proof.planar import plane_order
from tracker.path.proof.trace import Fault, Trace

_T = TypeVar("_T")


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
    flat, met_twice = _lies_flat(_ways(trace, under))
    if not flat and not drawn:
        flat, met_twice = _lies_flat(_laid_otherwise(trace, under))
    if not flat:
        # The faces of another surface say nothing of what falls off.
        what = "the thread crosses itself: the beads and spans do not lie flat in the plane"
        return [Fault(6, 0, 0, what)]
    return [
        Fault(6, 0, 0, f"without {trace.named(bead)} alone a part of the work falls off")
        for bead in sorted(set() if hinges is None else met_twice - hinges)
        if bead >= 0
    ]


def holding_alone(trace: Trace, under: Mapping[int, Line]) -> frozenset[int]:
    """The beads each of which holds a part of the work alone, in some plane drawing of it."""
    flat, met_twice = _lies_flat(_ways(trace, under))
    if not flat:
        _, met_twice = _lies_flat(_laid_otherwise(trace, under))
    return frozenset(bead for bead in met_twice if bead >= 0)


class _Ways(NamedTuple):
    """A drawing: every line between two points is two ways, one in either direction."""

    points: Sequence[int]
    """The points, by the numbers that `leads_to` gives them."""
    leads_to: list[int]
    """The point at the end of each way."""
    follow: list[int]
    """The way that goes on from there round the same face; -1 for a way that does not count."""
    lines: int


def _ways(trace: Trace, under: Mapping[int, Line]) -> _Ways:
    """The drawing that the places of the beads make."""
    return _numbered(_Lines(trace, under).in_order()) if under else _along_the_thread(trace)


def _laid_otherwise(trace: Trace, under: Mapping[int, Line]) -> _Ways:
    """A plane drawing of the same lines; if there is none, as the places make it."""
    around = _Lines(trace, under).in_order()
    return _numbered(plane_order(around) or around)


def _along_the_thread(trace: Trace) -> _Ways:
    """The drawing of a thread that goes under none: most bands are such, and long ones too.

    Way 2 i leads along the span before pass i, and way 2 i + 1 back. Where two beads are joined by
    several spans the first one counts.
    """
    beads, before = trace.met
    around: list[dict[int, int]] = [{} for _ in trace.beads]
    there, back = range(0, 2 * len(beads), 2), range(1, 2 * len(beads), 2)
    for way, way_back, bead, last in zip(there, back, beads, before, strict=True):
        here = around[bead]
        if last != bead and last not in here:
            here[last] = way_back
            around[last][bead] = way
    # Two spans may leave one mouth, so each is told by its far end.
    angles = _in_turn([span.there for span in trace.spans], [span.back for span in trace.spans])
    angle_of = angles.__getitem__
    follow = [-1] * len(angles)
    for here in around:
        out = sorted(here.values(), key=angle_of)
        # Who comes by one line goes on by that which stands clockwise of it.
        clockwise = out[-1] if out else -1
        for way in out:
            follow[way ^ 1] = clockwise
            clockwise = way
    lines = sum(map(len, around)) // 2
    return _Ways(range(len(around)), _in_turn(beads, before), follow, lines)


def _in_turn(there: Sequence[_T], back: Sequence[_T]) -> list[_T]:
    """One of each in turn, as ways there and back are numbered."""
    both = [*there, *back]
    both[::2], both[1::2] = there, back
    return both


def _numbered(around: dict[int, list[int]]) -> _Ways:
    """The drawing with these points next to each point, counter-clockwise.

    All ways are numbered through: those out of one point come one after the other.
    """
    number = {point: i for i, point in enumerate(around)}
    first_way = [0, *accumulate(map(len, around.values()))]
    leads_to: list[int] = []
    follow: list[int] = []
    for point, ends in around.items():
        for other in ends:
            there = number[other]
            back = around[other]
            before = back.index(point) - 1
            leads_to.append(there)
            follow.append(first_way[there] + (before if before >= 0 else len(back) - 1))
    return _Ways(list(number), leads_to, follow, len(follow) // 2)


def _lies_flat(ways: _Ways) -> tuple[bool, set[int]]:
    """Whether a drawing is plane, and the points that one of its faces meets twice.

    Every line is walked along in either direction, so a walk round a face is a walk along a list.
    """
    leads_to, follow = ways.leads_to, [*ways.follow]
    faces = 0
    met_twice: set[int] = set()
    met_in = [0] * len(ways.points)
    for start, second in enumerate(follow):
        if second < 0:
            continue
        faces += 1
        way, after = start, second
        while after >= 0:
            point = leads_to[way]
            if met_in[point] == faces:
                met_twice.add(point)
            else:
                met_in[point] = faces
            # A way that has been walked counts no more.
            follow[way] = -1
            way = after
            after = follow[way]
    # Points without lines are none of the drawing: one thread goes through all that there are.
    points = len(met_in) - met_in.count(0)
    flat = not points or points - ways.lines + faces == 2
    return flat, {ways.points[point] for point in met_twice}


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
