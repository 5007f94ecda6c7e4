"""What the work should look like at a place, in words: for whoever takes it up again."""

from __future__ import annotations

from collections import Counter

from tracker.path.model import Pass
from tracker.path.words import counted, listed
from tracker.pattern.model import Pattern


def standing(pattern: Pattern, row: int, step: int) -> tuple[str, ...]:
    """Sentences on the work before step `step` of row `row` (both from 0)."""
    before = _passes_before(pattern, row, step)
    if not before:
        return ("Nothing is strung yet.",)
    return (_thread_comes_out(pattern, before[-1]), _stand_open(pattern, before))


def _passes_before(pattern: Pattern, row: int, step: int) -> list[Pass]:
    """The passes of the last rows: enough to know every hole that can still be open."""
    passes = [
        p
        for r in range(max(0, row - 2), min(row, pattern.row_count))
        for s in pattern.row(r).steps
        for p in s.passes
    ]
    if row < pattern.row_count:
        passes += [p for s in pattern.row(row).steps[:step] for p in s.passes]
    return passes


def _thread_comes_out(pattern: Pattern, last: Pass) -> str:
    bead = pattern.bead(last.bead)
    colour = pattern.colour(bead.colour).name
    side = "upper" if last.up else "lower"
    hole = f"hole {last.hole} of " if last.hole else ""
    return f"The thread comes out of {hole}the {colour} {bead.kind}, at its {side} end."


def _stand_open(pattern: Pattern, before: list[Pass]) -> str:
    filled = {(p.bead, p.hole) for p in before}
    open_ = [
        pattern.bead(bead)
        for bead in sorted({p.bead for p in before if p.picked_up and p.hole})
        if (bead, "b") not in filled
    ]
    if not open_:
        return "No tile stands open."
    colours = Counter(pattern.colour(bead.colour).name for bead in open_)
    tiles = listed([counted(n, colour, "tile") for colour, n in colours.items()])
    return f"{tiles} {'stands' if len(open_) == 1 else 'stand'} open."
