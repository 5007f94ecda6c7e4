"""All seven rules over one path."""

from __future__ import annotations

from collections.abc import Callable

from tracker.beads.model import Shape
from tracker.path.laid import Line
from tracker.path.model import ThreadPath
from tracker.path.proof.counts import counts, noted, passing_by, rows_told, to_and_fro
from tracker.path.proof.expected import Expected
from tracker.path.proof.hang import hang_together
from tracker.path.proof.near import near
from tracker.path.proof.replay import Tightest, open_holes, replay, tightest
from tracker.path.proof.threads import under_threads
from tracker.path.proof.trace import Fault, Trace
from tracker.records import record

__all__ = ["Fault", "Proof", "prove"]


@record
class Proof:
    """What a replay of the path found: no faults, or where it breaks which rule."""

    faults: tuple[Fault, ...]
    beads: int
    passes: int
    tightest: Tightest | None


def prove(path: ThreadPath, expected: Expected, room: Callable[[Shape], int]) -> Proof:
    """Replay `path` against the rules.

    `room` says how many passes the holes of a shape take. Faults come in the order of the
    rules; a path that breaks rule 1 is not asked the others, for they speak of its beads.
    """
    trace = Trace.of(path)
    filling, faults = replay(trace, refilled=expected.refilled)
    worst = None
    under: dict[int, Line] = {}
    if not any(fault.rule == 1 for fault in faults):
        under, missing = under_threads(trace, expected)
        faults += missing
    if not any(fault.rule == 1 for fault in faults):
        faults += near(trace, expected, under)
        faults += open_holes(trace, filling, expected.open_tiles)
        worst, crowded = tightest(trace, filling, room)
        faults += crowded
        faults += hang_together(trace, expected.hinges, under, drawn=expected.drawn)
        faults += counts(trace, filling, expected)
        faults += noted(trace, expected)
        faults += passing_by(trace, expected.passed_by)
        faults += rows_told(trace)
        if expected.upward is None:
            faults += to_and_fro(trace)
    in_order = tuple(sorted(faults, key=lambda fault: (fault.rule, fault.row, fault.step)))
    return Proof(in_order, len(trace.beads), len(trace.passes), worst)
