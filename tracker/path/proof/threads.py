"""The threads that the needle goes under: each lies there, and the needle hangs on it.

Going under the thread between two beads joins what comes before and after to both of them. Only
that lets the needle go back through the bead that it has just left.
"""

from __future__ import annotations

from tracker.path.plane import Point
from tracker.path.proof.trace import Fault, Trace


def under_threads(trace: Trace, due: int) -> tuple[dict[int, Point], list[Fault]]:
    """The middle of each thread gone under (mm), by the pass after it, and what is wrong.

    A thread that is not there yet is left out of the first; that it is not there is a fault of
    rule 1, another number than `due` one of rule 7.
    """
    if not trace.under and not due:
        return {}, []
    faults = []
    middles: dict[int, Point] = {}
    threads: dict[tuple[int, int], Point] = {}
    last = -1
    out_x = out_y = 0.0
    for i, ((bead, _, _, _), (in_x, in_y, next_x, next_y)) in enumerate(
        zip(trace.passes, trace.ends, strict=True)
    ):
        if i in trace.under:
            one, other = sorted(trace.under[i])
            middle = threads.get((one, other))
            if middle is None:
                what = f"there is no thread from {trace.named(one)} to {trace.named(other)}"
                faults.append(trace.fault(1, i, what))
            else:
                middles[i] = middle
        elif last not in (-1, bead):
            key = (min(last, bead), max(last, bead))
            threads.setdefault(key, ((in_x + out_x) / 2, (in_y + out_y) / 2))
        last, out_x, out_y = bead, next_x, next_y
    if len(trace.under) != due:
        what = f"the needle goes under a thread {len(trace.under)} times, {due} are due"
        faults.append(Fault(7, 0, 0, what))
    return middles, faults
