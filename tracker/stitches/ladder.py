"""Ladder stitch: beads side by side, rung beside rung, sewn together round and round.

A rung is one bead, or up to six end to end ("two high" and so on). For every rung: pick its beads
up, go through the rung before once more, the same way as it was strung, and through the new rung
again; so the needle goes once round the two, and comes out at the upper end of one rung and at the
lower end of the next.

Rungs lie along the band at a bead's diameter, their beads end to end across it (common practice).
The first row of brick stitch is such a ladder too.
"""

from __future__ import annotations

from collections.abc import Sequence

from tracker.design.demands import Demands
from tracker.design.model import Design
from tracker.path.band import Band
from tracker.path.builder import PathBuilder
from tracker.path.gauge import Gauge
from tracker.path.model import Heading, ThreadPath
from tracker.path.plane import place
from tracker.path.proof.expected import Expected
from tracker.path.wording import Run, Wording, called, counted
from tracker.stitches.stitch import Stitch, shapes_of

SPREAD = 0.05
"""Expected error of pitch and width, as a share: makers differ by about 5 % (common practice)."""


def gauge(design: Design) -> Gauge:
    """Row pitch, width and length, by the beads' own sizes."""
    seed = design.own_seed
    return Gauge(
        start=0.0,
        pitch=seed.diameter,
        width=design.lanes * seed.length,
        pitch_spread=SPREAD,
        start_spread=0.5,
        width_spread=SPREAD,
    )


def weave(design: Design, rows: int) -> ThreadPath:
    """The thread path of `rows` rungs (2 or more); the first two begin it."""
    seed, lanes = design.own_seed, design.lanes
    colour = STITCH.colouring(design, rows)
    build = PathBuilder(shapes_of(design))
    before: list[int] = []
    for row in range(1, rows + 1):
        heading: Heading = "up" if row % 2 else "down"
        x = (row - 1) * seed.diameter
        build.start_row("start" if row <= 2 else "rows", heading, x)
        new = [
            build.pick_up(seed.name, colour(row, lane), place(x, (lane - 0.5) * seed.length, 0.0))
            for lane in (range(1, lanes + 1) if heading == "up" else range(lanes, 0, -1))
        ]
        if before:
            sew(build, before, new)
        build.end_step()
        build.end_row()
        before = new
    return build.path()


def sew(
    build: PathBuilder, before: Sequence[int], new: Sequence[int], *, back: bool = False
) -> None:
    """Once more through the rung before and through the new one, each as it was strung.

    `back`: the new rung was strung against the row's heading.
    """
    for bead in before:
        build.go_through(bead, back=not back)
    for bead in new:
        build.go_through(bead, back=back)


def passes_of_rungs(rungs: int) -> list[int]:
    """How often the needle is in each rung of a ladder of 2 or more.

    Twice for itself and once from the next; the first is strung once, the last has no next.
    """
    return [2, *[3] * (rungs - 2), 2]


def expected(band: Band) -> Expected:
    """The counts, by formula: lanes x rows seeds, every rung gone through one way only.

    A ladder one bead high hangs bead on bead, so each but the two at its ends holds all behind it.
    """
    lanes, rows = band.lanes, band.rows
    passes, upward = bytearray(), bytearray()
    for row, times in enumerate(passes_of_rungs(rows), start=1):
        passes += bytes([times] * lanes)
        upward += bytes([times if row % 2 else 0] * lanes)
    return Expected(
        tiles=0,
        seeds=lanes * rows,
        passes=bytes(passes),
        upward=bytes(upward),
        hinges=frozenset(range(1, rows - 1) if lanes == 1 else ()),
        longest_span=band.own_seed.diameter + band.own_seed.length / 4,
    )


def through(run: Run, *, full: bool) -> str:
    """The rung before, or the new one."""
    number = len(run.passes)
    names = {called(run.beads, run.beads.bead(p.bead)) for p in run.passes}
    colour, kind = names.pop() if len(names) == 1 else ("", "seed")
    said = " ".join(counted(number, colour, kind).split())
    said = said.removeprefix("1 ")
    if run.just_added:
        again = f"the {said} you just added" if full else "the new one"
        return again if number == 1 or full else "the new ones"
    return f"the {said} of the rung before, the same way as before" if full else "rung before"


def hint(row: int, _step: int, _lanes: int) -> str:
    """What a learner should see."""
    if row == 1:
        return "leave the tail; a finger keeps it until the second rung holds the first"
    if row == 2:
        return "the two rungs fold against each other, side by side, and the first holds"
    return "go in where the needle went in before, not where the thread comes out; pull it snug"


STITCH = Stitch(
    name="ladder stitch",
    demands=Demands(
        tile=False, own_seeds=False, across="lanes", least=1, most=6, usual=2, in_rank=1
    ),
    gauge=gauge,
    weave=weave,
    expected=expected,
    wording=Wording(through=through, together=lambda run: run.just_added),
    hint=hint,
)
