"""Rule 3: each pass starts near where the last one ended."""

from __future__ import annotations

from math import hypot

from tracker.path.proof.trace import Fault, Trace


def near(trace: Trace, longest: float) -> list[Fault]:
    """Faults where the bare thread between two passes is longer than `longest` (mm)."""
    faults = []
    out_x, out_y, *_ = trace.ends[0] if trace.ends else (0.0, 0.0)
    for i, (in_x, in_y, next_x, next_y) in enumerate(trace.ends):
        span = hypot(in_x - out_x, in_y - out_y)
        if span > longest:
            bead, hole, _, _ = trace.passes[i]
            what = (
                f"{span:.1f} mm of bare thread before {f'hole {hole} of ' if hole else ''}"
                f"{trace.named(bead)}, at most {longest:.1f} mm is explained"
            )
            faults.append(trace.fault(3, i, what))
        out_x, out_y = next_x, next_y
    return faults
