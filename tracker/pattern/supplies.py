"""What to have ready before the first bead: beads, thread, needle."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass

from tracker.beads.catalogue import Needle, seeds
from tracker.beads.holes import needle_that_fits
from tracker.beads.mass import grams
from tracker.beads.model import Glass
from tracker.design.model import NO_CLOSURE
from tracker.pattern.model import Pattern
from tracker.pattern.thread_plan import plan_thread
from tracker.stitches.herringbone_closures import findings_of

SPARE = 0.10
"""Share of beads to have beyond the count: some are misshapen, some roll away."""


@dataclass(frozen=True, slots=True)
class BeadSupply:
    """Beads of one shape and colour."""

    colour: str
    shape: Glass
    count: int
    with_spare: int
    grams: float
    """Mass of `with_spare` beads."""


@dataclass(frozen=True, slots=True)
class Supplies:
    """Everything for one piece. Lengths in mm."""

    beads: tuple[BeadSupply, ...]
    thread: float
    """All thread, with the tail and what the ends lose."""
    lengths: int
    """Lengths of thread to cut."""
    needle: Needle | None
    """The thickest needle that still makes the last pass through the fullest hole."""
    findings: tuple[tuple[str, int], ...] = ()
    """Name and number of each thing that the closure takes besides."""


def supplies_of(pattern: Pattern, spare: float = SPARE) -> Supplies:
    """The supplies of a pattern, with `spare` as a share of each count."""
    beads = []
    for key, kind in pattern.kinds():
        count = pattern.totals[key]
        with_spare = math.ceil(count * (1 + spare) - 1e-9)
        each = grams_each(kind.shape)
        beads.append(BeadSupply(kind.colour, kind.shape, count, with_spare, with_spare * each))
    plan = plan_thread(pattern.thread_before, pattern.thread)
    needle, findings = needle_for(pattern), findings_of(pattern.closure)
    return Supplies(tuple(beads), plan.needed, plan.lengths, needle, findings)


def grams_each(shape: Glass) -> float:
    """Mass of a bead to buy by, g: by its measures or by the trade's count, whichever is more.

    Makers differ; a few grams too many are cheaper than a band that cannot be finished.
    """
    nominal = seeds().get(shape.name)
    per_gram = nominal.per_gram if nominal is not None else None
    return max(grams(shape), 1 / per_gram if per_gram else 0.0)


def needle_for(pattern: Pattern) -> Needle | None:
    """The thickest needle for the whole piece; None if no known one passes."""
    most = _fullest_holes(pattern)
    found = []
    for shape in pattern.shapes.values():
        passes = most[shape.name]
        found.append(needle_that_fits(shape.hole, pattern.thread.diameter, passes))
    needles = [needle for needle in found if needle is not None]
    return min(needles, key=lambda needle: needle.eye) if len(needles) == len(found) else None


def _fullest_holes(pattern: Pattern) -> dict[str, int]:
    """The most passes through one hole of each shape, by its name."""
    # While the band grows a seed meets the thread twice, each hole of a tile once.
    most = {s.name: 2 if s.kind == "seed" else 1 for s in pattern.shapes.values()}
    if pattern.closure == NO_CLOSURE:
        return most
    path = pattern.path()
    shapes = {bead.id: bead.shape for row in path.rows for bead in row.beads}
    passes = Counter(
        (p.bead, p.hole) for row in path.rows for step in row.steps for p in step.passes
    )
    for (bead, _), times in passes.items():
        most[shapes[bead]] = max(most[shapes[bead]], times)
    return most
