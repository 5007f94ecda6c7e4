"""What the work should look like at a place, in words: for whoever takes it up again."""

from __future__ import annotations

from collections import Counter

from tracker.path.model import Pass, Step
from tracker.path.words import counted, listed, name_of
from tracker.pattern.model import Pattern


def standing(pattern: Pattern, row: int, step: int) -> tuple[str, ...]:
    """Sentences on the work before step `step` of row `row` (both from 0)."""
    steps = _steps_before(pattern, row, step)
    before = [p for s in steps for p in s.passes]
    if not before:
        return ("Nothing is strung yet.",)
    said = (_thread_comes_out(pattern, steps),)
    return (*said, _stand_open(pattern, before)) if pattern.body == "tile" else said


def _steps_before(pattern: Pattern, row: int, step: int) -> list[Step]:
    """The steps of the last rows: enough to know every hole that can still be open."""
    steps = [
        s for r in range(max(0, row - 2), min(row, pattern.row_count)) for s in pattern.row(r).steps
    ]
    if row < pattern.row_count:
        steps += pattern.row(row).steps[:step]
    return steps


def _thread_comes_out(pattern: Pattern, steps: list[Step]) -> str:
    what, last, side = "thread", None, ""
    for s in reversed(steps):
        if s.note == "trim":
            return "The thread is trimmed."
        if s.note == "tail":
            what, last = "tail", pattern.row(0).steps[0].passes[0]
            # The tail leaves the first bead where the needle once went in.
            side = "lower" if last.up else "upper"
            break
        if s.passes:
            last = s.passes[-1]
            side = "upper" if last.up else "lower"
            break
    assert last is not None, "there is a pass before"
    hole = f"hole {last.hole} of " if last.hole else ""
    name = name_of(pattern, pattern.bead(last.bead))
    return f"The {what} comes out of {hole}the {name}, at its {side} end."


def _stand_open(pattern: Pattern, before: list[Pass]) -> str:
    filled = {(p.bead, p.hole) for p in before}
    open_ = [
        pattern.bead(bead)
        for bead in sorted({p.bead for p in before if p.picked_up and p.hole})
        if (bead, "b") not in filled and pattern.bead(bead).kind == "tile"
    ]
    if not open_:
        return "No tile stands open."
    colours = Counter(pattern.colour(bead.colour).name for bead in open_)
    tiles = listed([counted(n, colour, "tile") for colour, n in colours.items()])
    return f"{tiles} {'stands' if len(open_) == 1 else 'stand'} open."
