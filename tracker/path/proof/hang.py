"""Rule 6: the beads hang together, in the plane, and by more than one bead.

Beads are the points of a graph, spans of thread between consecutive passes its lines. One
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
from math import atan2

from tracker.path.model import Bead
from tracker.path.plane import nearer
from tracker.path.proof.planar import plane_order
from tracker.path.proof.trace import Fault, Trace


def hang_together(
    trace: Trace, hinges: frozenset[int] | None, *, drawn: bool = True
) -> list[Fault]:
    """Faults of rule 6; `hinges` are the beads that may hold a part of the work alone.

    None stands for any bead. Where the places are not `drawn` by a stitch, some plane drawing must
    be there to be found.
    """
    around = _lines_in_order(trace)
    if not drawn:
        around = plane_order(around) or around
    faces, met_twice = _trace_faces(around)
    lines = sum(len(ends) for ends in around.values()) // 2
    if len(around) > 1 and len(around) - lines + faces != 2:
        # The faces of another surface say nothing of what falls off.
        what = "the thread crosses itself: the beads and spans do not lie flat in the plane"
        return [Fault(6, 0, 0, what)]
    return [
        Fault(6, 0, 0, f"without {trace.named(bead)} alone a part of the work falls off")
        for bead in sorted(set() if hinges is None else met_twice - hinges)
    ]


def holding_alone(trace: Trace) -> frozenset[int]:
    """The beads each of which holds a part of the work alone, in some plane drawing of it."""
    around = _lines_in_order(trace)
    _, met_twice = _trace_faces(plane_order(around) or around)
    return frozenset(met_twice)


def _lines_in_order(trace: Trace) -> dict[int, list[int]]:
    """The beads next to each bead along the thread, counter-clockwise.

    Where two beads are joined by several spans the first one counts. A thread gone under joins
    what comes before and after it to the two beads that it hangs between.
    """
    beads, around_tube = trace.beads, trace.path.around
    around: dict[int, dict[int, float]] = {}
    last: int | None = None
    out_x = out_y = 0.0
    for i, ((bead, _, _, _), (in_x, in_y, next_x, next_y)) in enumerate(
        zip(trace.passes, trace.ends, strict=True)
    ):
        if i == trace.tail:
            last, _, out_x, out_y = trace.before(i)
        here = around.setdefault(bead, {})
        if i in trace.under:
            for end in {bead, bead if last is None else last}:
                for held in trace.under[i]:
                    _join(beads, around, end, held)
        elif last is not None and last != bead and last not in here:
            # Two spans may leave one mouth, so each is told by its far end.
            x, y, _ = beads[bead].place
            here[last] = atan2(nearer(out_y - y, around_tube), out_x - x)
            x, y, _ = beads[last].place
            around[last][bead] = atan2(nearer(in_y - y, around_tube), in_x - x)
        last, out_x, out_y = bead, next_x, next_y
    return {bead: sorted(by_angle, key=by_angle.__getitem__) for bead, by_angle in around.items()}


def _join(
    beads: Mapping[int, Bead], around: dict[int, dict[int, float]], one: int, other: int
) -> None:
    """Join two beads by a line from middle to middle, unless they are joined already."""
    if other in around[one] or one == other:
        return
    x, y, _ = beads[one].place
    to_x, to_y, _ = beads[other].place
    around[one][other] = atan2(to_y - y, to_x - x)
    around[other][one] = atan2(y - to_y, x - to_x)


def _trace_faces(around: dict[int, list[int]]) -> tuple[int, set[int]]:
    """Count the faces and find the beads that one face meets twice."""
    follow = {
        (neighbour, bead): (bead, ends[i - 1])
        for bead, ends in around.items()
        for i, neighbour in enumerate(ends)
    }
    faces = 0
    met_twice: set[int] = set()
    seen_in: dict[int, int] = {}
    while follow:
        line, following = follow.popitem()
        faces += 1
        start = line
        while True:
            bead = following[0]
            if seen_in.get(bead) == faces:
                met_twice.add(bead)
            seen_in[bead] = faces
            if following == start:
                break
            following = follow.pop(following)
    return faces, met_twice
