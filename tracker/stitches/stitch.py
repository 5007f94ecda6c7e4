"""What a stitch has to say: what it asks for, its size, its path, what its proof must find."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from tracker.beads.model import Shape
from tracker.design.demands import USUAL, Demands
from tracker.design.layout import bead_colour
from tracker.design.model import Design
from tracker.path.band import Band
from tracker.path.gauge import Gauge
from tracker.path.model import ThreadPath
from tracker.path.wording import PLAIN, Wording
from tracker.problems import Problem
from tracker.records import record

if TYPE_CHECKING:
    from tracker.path.proof.expected import Expected
    from tracker.path.proof.trace import Fault

Colouring = Callable[[int, int], str]
"""(row, lane), both from 1 -> a colour's letter."""


def plain_band(design: Design, rows: int) -> Band:
    """A design's band of so many rows, as its width, beads and closure say."""
    return Band(
        lanes=design.wide,
        rows=rows,
        tile=design.tile,
        seed=design.seed,
        start=design.start,
        closure=design.closure,
    )


def suits(_design: Design) -> str:
    """Nothing to say against any beads."""
    return ""


def problem_of(_design: Design | None, fault: Fault) -> Problem:
    """A broken rule as a problem of the file."""
    mend = "the path cannot be trusted: report this design to the makers of the tracker"
    if fault.rule == 5:
        mend = "take a finer thread or beads with larger holes"
    return Problem(fault.where, f"rule {fault.rule} of the proof: {fault.what}", mend)


def no_hint(_row: int, _step: int, _lanes: int) -> str:
    """Nothing that a learner should know besides the words of the step."""
    return ""


@record(kw_only=True)
class Stitch:
    """A stitch by its functions."""

    name: str
    gauge: Callable[[Design], Gauge]
    weave: Callable[[Design, int], ThreadPath]
    """Weave a design to so many rows."""
    expected: Callable[[Band], Expected]
    """What the path of a band must come to, by formula and not by weaving it."""
    demands: Demands = USUAL
    wording: Wording = PLAIN
    band: Callable[[Design, int], Band] = plain_band
    unsuited: Callable[[Design], str] = suits
    """Why the beads of a design do not suit each other, else ""."""
    hint: Callable[[int, int, int], str] = no_hint
    """What a learner should know or see at a row and step (from 1) of so many lanes, or ""."""
    blame: Callable[[Design, Fault], Problem] = problem_of
    """A broken rule as a problem of the design, with its place and mend."""
    extra_rows: int = 0
    """Rows of beads more than rows woven: the strung row of staggered stitches is two of them."""
    longer_starts: tuple[str, ...] = ()
    """The starts that alone make one row of beads more than rows woven."""

    def colouring(self, design: Design, rows: int) -> Colouring:
        """The colour of each bead of the layout, by row of beads and lane."""
        beads_rows = rows + self.extra_rows + (design.start in self.longer_starts)
        return bead_colour(design.layout, design.wide, beads_rows, self.demands.in_rank)


def shapes_of(design: Design) -> dict[str, Shape]:
    """The shapes of a design's beads, by name."""
    return {s.name: s for s in (design.tile, design.seed) if s is not None}
