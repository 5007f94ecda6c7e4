"""Square stitch: seeds in a grid, each sewn to the one beside it in the row before.

Row 1 is strung. From then on, for every bead: pick it up, go back through the bead that it is to
lie beside, and through the new one again; so the needle goes once round the two. At the end of a
row it goes on from the new bead, and the next row begins beside it, the other way.

The grid is the beads' own: along the band their diameter, across it their length (common
practice: square stitch lies like loom work, bead beside bead and end to end).
"""

from __future__ import annotations

from tracker.design.demands import Demands
from tracker.design.model import Design
from tracker.path.band import Band
from tracker.path.builder import PathBuilder
from tracker.path.model import Heading, Place, ThreadPath
from tracker.path.plane import place
from tracker.path.proof.expected import Expected
from tracker.path.wording import Run, Wording, called
from tracker.stitches.ladder import gauge
from tracker.stitches.stitch import Stitch, shapes_of


def weave(design: Design, rows: int) -> ThreadPath:
    """The thread path of `rows` rows (2 or more)."""
    seed, lanes = design.own_seed, design.lanes
    colour = STITCH.colouring(design, rows)
    build = PathBuilder(shapes_of(design))

    def pick_up(row: int, lane: int) -> int:
        return build.pick_up(seed.name, colour(row, lane), _at(design, row, lane))

    build.start_row("start", "up", 0.0)
    before = {}
    for lane in range(1, lanes + 1):
        before[lane] = pick_up(1, lane)
        build.end_step(turn=lane == lanes)
    build.end_row()
    for row in range(2, rows + 1):
        heading: Heading = "up" if row % 2 else "down"
        across = range(1, lanes + 1) if heading == "up" else range(lanes, 0, -1)
        build.start_row("rows", heading, _at(design, row, 1).x)
        there = {}
        for lane in across:
            new = there[lane] = pick_up(row, lane)
            # The neighbour in the row before that comes next waits its turn.
            ahead = lane + (1 if heading == "up" else -1)
            if 1 <= ahead <= lanes:
                build.pass_by(before[ahead])
            build.go_through(before[lane], back=True)
            build.go_through(new)
            build.end_step(turn=lane == across[-1])
        before = there
        build.end_row()
    return build.path()


def _at(design: Design, row: int, lane: int) -> Place:
    seed = design.own_seed
    return place((row - 1) * seed.diameter, (lane - 0.5) * seed.length, 0.0)


def expected(band: Band) -> Expected:
    """The counts, by formula: lanes x rows seeds; twice through each, once more if one is beside.

    A bead of row 1 is gone through when strung and once from row 2; one of the rows after twice
    for itself and once from the next, the last row's twice. The needle goes through it in its own
    row's way, and back the other way from the next row.
    """
    lanes, rows = band.lanes, band.rows
    own = {1: 1}
    passes, upward = bytearray(), bytearray()
    for row in range(1, rows + 1):
        mine = own.get(row, 2)
        again = 1 if row < rows else 0
        # Row r + 1 comes by against its own heading, which is the heading of row r.
        passes += bytes([mine + again] * lanes)
        upward += bytes([mine + again if row % 2 else 0] * lanes)
    return Expected(
        tiles=0,
        seeds=lanes * rows,
        passes=bytes(passes),
        upward=bytes(upward),
        passed_by=(lanes - 1) * (rows - 1),
        hinges=frozenset(),
        longest_span=band.own_seed.length / 2 + band.own_seed.diameter,
    )


def through(run: Run, *, full: bool) -> str:
    """The bead beside, and the new one."""
    colour, kind = called(run.beads, run.beads.bead(run.first.bead))
    if run.just_added:
        return f"the {colour} {kind} you just added" if full else "the new one"
    which = f"the {colour} {kind} beside it, in the row before"
    return which if full else f"{colour} beside it"


_HINTS = ("one bead at a time; keep the tail in hand", "the new bead comes to lie beside the other")


def hint(row: int, _step: int, _lanes: int) -> str:
    """What a learner should see."""
    return _HINTS[0] if row == 1 else _HINTS[1]


STITCH = Stitch(
    name="square stitch",
    demands=Demands(
        tile=False, own_seeds=False, across="lanes", least=2, most=80, usual=6, in_rank=1
    ),
    gauge=gauge,
    weave=weave,
    expected=expected,
    wording=Wording(through=through, together=lambda run: run.first),
    hint=hint,
)
