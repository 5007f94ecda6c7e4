"""What each closure puts at the two ends of a band: where its loops hang, and of what they are.

A loop leaves the band between a tile of the end and the group of seeds beside it, goes out to a
finding (or to nothing, for a button to go through) and comes back there. Sizes and numbers are
common practice of the trade.
"""

from __future__ import annotations

import math

from tracker.beads.catalogue import findings
from tracker.beads.model import Finding, Seed
from tracker.design.model import Closure
from tracker.path.notes import Note
from tracker.records import record

LEG_SEEDS = 3
"""Seeds on either side of a guard or a button."""
RING_SEEDS = 4
"""Seeds on either side of the ring of a clasp: with the ring among them they go round it."""
BUTTON = "button"


@record
class Loop:
    """Seeds out, the finding or none, seeds back."""

    out: int
    finding: Finding | None
    back: int

    @property
    def seeds(self) -> int:
        """Seeds in the loop."""
        return self.out + self.back


@record
class EndPlan:
    """One end: its loops' columns, in the order in which the thread comes to them, and notes."""

    columns: tuple[int, ...]
    loop: Loop | None
    """What each loop is; None for an end without loops."""
    finish: tuple[Note, ...]
    """What is done when the thread has been trimmed."""


def loop_of(closure: Closure, seed: Seed, *, working_end: bool) -> Loop | None:
    """The loop that hangs at an end; None for ribbon ends, which are glued on."""
    found = findings()
    if closure.kind == "wire guards":
        return Loop(LEG_SEEDS, found["wire guard"], LEG_SEEDS)
    if closure.kind == "bead loops":
        return Loop(RING_SEEDS, found["clasp ring"], RING_SEEDS)
    if closure.kind == "button loop":
        button = found[BUTTON]
        if working_end:
            return Loop(LEG_SEEDS, button, LEG_SEEDS)
        side = button_loop_side(button, seed)
        return Loop(side, None, side)
    return None


def button_loop_side(button: Finding, seed: Seed) -> int:
    """Seeds on one side of a loop that a button goes through edge on.

    Laid flat, a side is as long as the button is broad and thick.
    """
    return math.ceil((button.diameter + button.length) / seed.length - 1e-9)


def plan_of(closure: Closure, columns: int, seed: Seed, *, working_end: bool) -> EndPlan:
    """What is done at an end. Columns of the working end count in the way of levelling."""
    at: tuple[int, ...] = ()
    if closure.kind == "bead loops":
        spread = spread_columns(closure.rings, columns)
        at = spread[::-1] if working_end else spread
    elif closure.kind not in ("none", "ribbon ends"):
        # Of the places between two lanes these are the nearest to the middle of the band.
        at = (columns // 2 + 1 if working_end else (columns + 1) // 2,)
    finish: list[Note] = []
    if closure.kind == "wire guards":
        finish = ["jump-ring"]
    elif closure.kind == "ribbon ends":
        finish = ["glue", "press", "jump-ring"]
    if not working_end:
        finish.append("check")
    return EndPlan(at, loop_of(closure, seed, working_end=working_end), tuple(finish))


def loop_seeds(closure: Closure, columns: int, seed: Seed) -> int:
    """Seeds of all loops at both ends."""
    plans = (plan_of(closure, columns, seed, working_end=end) for end in (True, False))
    return sum(plan.loop.seeds * len(plan.columns) for plan in plans if plan.loop is not None)


def spread_columns(rings: int, columns: int) -> tuple[int, ...]:
    """So many different columns, spread evenly over the width, lowest first."""
    return tuple((2 * i + 1) * columns // (2 * rings) + 1 for i in range(rings))


def findings_of(closure: Closure) -> tuple[tuple[str, int], ...]:
    """What to have ready besides beads and thread: name and number."""
    if closure.kind == "wire guards":
        return (("wire guard", 2), ("jump ring", 2), ("clasp", 1))
    if closure.kind == "bead loops":
        rings = f"{closure.rings} ring{'' if closure.rings == 1 else 's'} a side"
        return ((f"bar clasp with {rings}", 1),)
    if closure.kind == "ribbon ends":
        return (("ribbon end", 2), ("jump ring", 2), ("clasp", 1), ("adhesive", 1))
    if closure.kind == "button loop":
        return (("button", 1),)
    return ()
