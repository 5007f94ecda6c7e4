"""Two-hole ladder: tiles side by side, each sewn by its hole a to the hole b of the one before.

A rung is one tile, or up to six end to end. Pick it up by hole a; go through hole b of the rung
before once more, the same way as before, and through hole a again, so once round the two holes
that lie side by side; then through hole b of the new rung, the other way. The needle goes up in
every hole a and down in every hole b. Between two rungs the thread lies across the joint, at a
rung's upper end also from its one hole to its other (common practice, told from memory).

Tiles lie along the band at their length, their passages end to end across it.
"""

from __future__ import annotations

from tracker.design.demands import Demands
from tracker.design.model import Design
from tracker.path.band import Band
from tracker.path.builder import PathBuilder
from tracker.path.gauge import Gauge
from tracker.path.model import ThreadPath
from tracker.path.plane import place
from tracker.path.proof.expected import Expected
from tracker.path.wording import Run, Wording, called
from tracker.stitches.stitch import Stitch, shapes_of

SPREAD = 0.05
"""Expected error of pitch and width, as a share: makers differ by about 5 % (common practice)."""

GIVE = 0.25
"""Bare thread may be so much longer than the way from hole to hole, mm."""


def gauge(design: Design) -> Gauge:
    """Row pitch, width and length, by the tiles' own sizes."""
    tile = design.own_tile
    return Gauge(
        start=0.0,
        pitch=tile.length,
        width=design.lanes * tile.passage,
        pitch_spread=SPREAD,
        start_spread=0.5,
        width_spread=SPREAD,
    )


def weave(design: Design, rows: int) -> ThreadPath:
    """The thread path of `rows` rungs (2 or more)."""
    tile, lanes = design.own_tile, range(1, design.lanes + 1)
    colour = STITCH.colouring(design, rows)
    build = PathBuilder(shapes_of(design))
    before: list[int] = []
    for row in range(1, rows + 1):
        x = (row - 1) * tile.length
        build.start_row("start" if row == 1 else "rows", "up", x)
        new = [
            build.pick_up(tile.name, colour(row, lane), place(x, (lane - 0.5) * tile.passage, 0.0))
            for lane in lanes
        ]
        if before:
            for bead in reversed(before):
                build.go_through(bead, "b", back=True)
            for bead in new:
                build.go_through(bead, "a")
        build.end_step()
        for bead in reversed(new):
            build.go_through(bead, "b", back=True)
        build.end_step()
        build.end_row()
        before = new
    return build.path()


def expected(band: Band) -> Expected:
    """The counts, by formula: lanes x rows tiles, up in hole a, down in hole b.

    Hole a is gone through twice, in the first rung once; hole b twice, in the last rung once. A
    ladder one tile high hangs tile on tile, so each but the two at its ends holds all behind it.
    """
    lanes, rows, tile = band.lanes, band.rows, band.own_tile
    passes, upward = bytearray(), bytearray()
    for row in range(1, rows + 1):
        up = 1 if row == 1 else 2
        down = 1 if row == rows else 2
        passes += bytes([up + down] * lanes)
        upward += bytes([up] * lanes)
    return Expected(
        tiles=lanes * rows,
        seeds=0,
        passes=bytes(passes),
        upward=bytes(upward),
        hinges=frozenset(range(1, rows - 1) if lanes == 1 else ()),
        longest_span=tile.length - tile.hole_spacing + GIVE,
        round_end=tile.hole_spacing + GIVE,
        refilled=True,
    )


def through(run: Run, *, full: bool) -> str:
    """The rung before by its near hole, the new one by the same or by its other."""
    number = len(run.passes)
    if number == 1:
        colour, kind = called(run.beads, run.beads.bead(run.first.bead))
        tile, holes, before = f"{colour} {kind}", "hole", "before"
    else:
        tile, holes, before = f"{number} tiles", "holes", "of the rung before"
    if not run.new:
        return (
            f"the near {holes} of the {tile} {before}, the same way as before"
            if full
            else f"near {holes} before"
        )
    if run.just_added:
        again = f"by the same {holes}"
        return f"the {tile} you just added, {again}" if full else f"the new {again}"
    return f"the other {holes} of the {tile}, the other way" if full else f"other {holes}"


def hint(row: int, step: int, _lanes: int) -> str:
    """What a learner should see."""
    if row == 1:
        return "leave the tail; hold the tile flat between two fingers"
    if step == 1:
        return "the new tile lies close beside the other; pull both ends of the circle snug"
    return "the thread lies round the end of the tile; the hole away from the work takes it"


STITCH = Stitch(
    name="two-hole ladder",
    demands=Demands(
        tile=True,
        seed=False,
        own_seeds=False,
        across="lanes",
        least=1,
        most=6,
        usual=1,
        in_rank=1,
    ),
    gauge=gauge,
    weave=weave,
    expected=expected,
    wording=Wording(through=through, together=lambda run: (run.first.hole, run.new)),
    hint=hint,
)
