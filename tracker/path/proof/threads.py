"""The threads that the needle goes under: each lies there, and the needle hangs on it.

Going under the thread between two beads joins what comes before and after to both of them. Only
that lets the needle go back through the bead that it has just left.
"""

from __future__ import annotations

from collections.abc import Sequence

from tracker.path.laid import Line, Threads
from tracker.path.proof.expected import Expected
from tracker.path.proof.trace import Fault, Trace


def under_threads(trace: Trace, expected: Expected) -> tuple[dict[int, Line], list[Fault]]:
    """Each thread gone under (mm), by the pass after it, and what is wrong.

    A thread that is not there yet is left out of the first; that it is not there is a fault of
    rule 1; another number than is due, or another thread, one of rule 7.
    """
    due = expected.under
    if not trace.under and not due:
        return {}, []
    faults = []
    lines: dict[int, Line] = {}
    threads = Threads(trace.path.around)
    last = -1
    out = (0.0, 0.0)
    for i, ((bead, _, _, _), (in_x, in_y, next_x, next_y)) in enumerate(
        zip(trace.passes, trace.ends, strict=True)
    ):
        if i in trace.under:
            one, other = trace.under[i]
            line = threads.nearest(one, other, out)
            if line is None:
                what = f"there is no thread from {trace.named(one)} to {trace.named(other)}"
                faults.append(trace.fault(1, i, what))
            else:
                lines[i] = line
                if last != -1:
                    threads.hang(last, out, (one, other), line)
                threads.hang(bead, (in_x, in_y), (one, other), line)
        elif last not in (-1, bead) and i != trace.tail:
            threads.lay(last, out, bead, (in_x, in_y))
        last, out = bead, (next_x, next_y)
    if len(trace.under) != due:
        what = f"the needle goes under a thread {len(trace.under)} times, {due} are due"
        faults.append(Fault(7, 0, 0, what))
    elif expected.threads:
        faults += _other_threads(trace, expected.threads)
    return lines, faults


def _other_threads(trace: Trace, due: Sequence[tuple[int, int]]) -> list[Fault]:
    faults = []
    for (i, under), between in zip(sorted(trace.under.items()), due, strict=True):
        if sorted(under) != sorted(between):
            one, other = (trace.named(bead) for bead in between)
            what = f"the needle goes under another thread than that from {one} to {other}"
            faults.append(trace.fault(7, i, what))
    return faults
