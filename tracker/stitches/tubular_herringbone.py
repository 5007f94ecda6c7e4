"""Tubular herringbone: columns of two seeds round a tube, every round stepped up.

**Ladder start** (the usual one). Round 1 is a ladder closed to a ring: its first seed is gone
through out of the work, its last one into it, and then the first, the last and the first again,
so that the thread comes out of the first seed outwards. Every further round: for each column
pick up 2, go in through the seed of the round before beside the one that the thread comes out of,
out through the first of the next column; at the end out through two, the first seed of the round
before and the first of this round. That is the step up; left out, the next round starts a row too
low.

**Two rounds** strung as one. The string goes up one lane and down the next, four seeds a column,
as in flat work; the needle then goes out through the string's first two seeds again, which closes
the ring and steps up to the second round. The round that follows passes by the two seeds of the
first round that lie between one column and the next on the string.

The girth is that of a ring through the middles of the seeds, which stand side by side; the
tube of 2 columns is more a square than a ring.
"""

from __future__ import annotations

from tracker.design.demands import Demands
from tracker.design.model import Design
from tracker.path.band import Band
from tracker.path.builder import PathBuilder
from tracker.path.model import ThreadPath
from tracker.path.proof.expected import Expected
from tracker.path.wording import Run, Wording, called
from tracker.stitches.herringbone_columns import (
    LADDER,
    column_pass_by,
    column_through,
    gauge,
    ladder,
    ladder_through,
    lean_at,
    longest_span,
    number_in_step,
    through,
    upright_at,
    way,
    zigzag,
)
from tracker.stitches.stitch import Stitch, shapes_of

TWO_ROUNDS = "two rounds"


def weave(design: Design, rows: int) -> ThreadPath:
    """The thread path of `rows` rounds (2 or more)."""
    seed, columns = design.own_seed, design.columns
    laddered = design.start == LADDER
    colour = STITCH.colouring(design, rows)
    build = PathBuilder(shapes_of(design), around=gauge(design).width)

    def pick_up(row: int, lane: int, *, out: bool) -> int:
        lies = upright_at(seed, lane) if row == 1 and laddered else lean_at(seed, row, lane)
        return build.pick_up(seed.name, colour(row, lane), lies, back=not out)

    first: list[int] = []
    build.start_row("start", "up", 0.0)
    if laddered:
        before = ladder(build, 2 * columns, pick_up, first_out=True)
        for bead, out in ((before[0], True), (before[-1], False), (before[0], True)):
            through(build, bead, out=out)
    else:
        first, before = zigzag(build, columns, pick_up)
        through(build, first[0], out=True)
        through(build, before[0], out=True)
    build.end_step(turn=not laddered)
    build.end_row()
    for row in range(2, rows + 1):
        level = row if laddered else row + 1
        build.start_row("rows", "up", lean_at(seed, level, 1).x)
        there: list[int] = []
        for one in range(0, 2 * columns, 2):
            there.append(pick_up(level, one + 1, out=True))
            there.append(pick_up(level, one + 2, out=False))
            following = (one + 2) % (2 * columns)
            in_the_way = [first[one + 1], first[following]] if first else [before[one]]
            for bead in in_the_way:
                build.pass_by(bead)
            through(build, before[one + 1], out=False)
            if following:
                through(build, before[following], out=True)
            build.end_step()
        through(build, before[0], out=True)
        through(build, there[0], out=True)
        build.end_step(turn=True)
        build.end_row()
        before, first = there, []
    return build.path()


def expected(band: Band) -> Expected:
    """The counts, by formula: two passes through each seed, three in the lane of the steps up.

    A seed is picked up and gone through once from the next round, always the same way: out of the
    work in the first lane of a column, into it in the second. The first of each round is gone
    through once more by its own step up. In a ladder ring each has three passes, the first four
    (it closes the ring twice), and one more from round 2.
    """
    lanes, columns, rows = band.lanes, band.columns, band.rows
    laddered = band.start != TWO_ROUNDS
    if laddered:
        passes = bytearray([5] + [4] * (lanes - 1))
        upward = bytearray([5, 0] + [4, 0] * (columns - 1))
    else:
        passes = bytearray([2, 3, 2, 1] + [1, 2, 2, 1] * (columns - 1))
        upward = bytearray([2, 3, 0, 0] + [1, 2, 0, 0] * (columns - 1))
    passes += bytes([3] + [2] * (lanes - 1)) * (rows - 2) + bytes([2] + [1] * (lanes - 1))
    upward += bytes([3, 0] + [2, 0] * (columns - 1)) * (rows - 2)
    upward += bytes([2, 0] + [1, 0] * (columns - 1))
    return Expected(
        tiles=0,
        seeds=lanes * (rows if laddered else rows + 1),
        passes=bytes(passes),
        upward=bytes(upward),
        # Each step of a column marks one, after a string two.
        passed_by=columns * (rows - 1 if laddered else rows),
        longest_span=longest_span(band.own_seed),
    )


def _through(run: Run, *, full: bool) -> str:
    colour, kind = called(run.beads, run.beads.bead(run.first.bead))
    if run.row.section == "start":
        if any(run.step.picked_up()):
            return ladder_through(run, full=full)
        last = run.row.beads[-1].id
        which = {0: "first", last: "last"}.get(run.first.bead, "second")
        return f"the {colour} {kind} picked up {which}, {way(run)}" if full else f"the {which} one"
    if not run.step.turn:
        return column_through(run, full=full)
    which = "this round" if number_in_step(run) else "the round before"
    return f"the {colour} {kind} that begins {which}, {way(run)}" if full else f"first of {which}"


def hint(row: int, step: int, lanes: int) -> str:
    """What a learner should see."""
    columns = lanes // 2
    if row == 1:
        return "the last step closes the ring: see that it is not twisted"
    if step > columns:
        return "out through two, never one: the first of the round before and of this round"
    if row == 2:
        return "it begins to stand up as a tube when round 2 is pulled tight; hold it on a stick"
    return "the 2 new seeds lean together, like a roof"


STITCH = Stitch(
    name="tubular herringbone",
    demands=Demands(
        tile=False, own_seeds=False, least=2, usual=3, in_rank=1, starts=(LADDER, TWO_ROUNDS)
    ),
    gauge=gauge,
    weave=weave,
    expected=expected,
    wording=Wording(
        through=_through,
        pass_by=column_pass_by,
        together=lambda _run: None,
        turning="step up",
    ),
    hint=hint,
    longer_starts=(TWO_ROUNDS,),
)
