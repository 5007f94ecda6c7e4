"""One-hole herringbone, flat: columns of two seeds, sewn two at a time, to and fro.

**Ladder start** (the usual one). Row 1 is a ladder. Its first seed is gone through into the work,
so that the thread comes out of the last one outwards, ready for row 2; whoever makes it the other
way turns it over. From then on, for each column: pick up 2, go in through the seed of the row
before beside the one that the thread comes out of, and out through the first of the next column.

**Two rows** strung as one. The string goes up one lane and down the next: 1 seed of the first row,
2 of the second, 2 of the first, ... 1 of the first, four a column. At its end the needle passes by
the last seed and goes back through the one before it, which is of the second row. In the row
that follows it goes from column to column through the second row's seeds and passes by the two
of the first row between them on the string; pulled tight, that folds the string into two rows.
Then all goes on as after a ladder. The first and the last seed of the string hang on the one
beside them alone: those two are the band's only weak seeds, and the tail, woven in, holds one.

**The turn** is the plain one: having come in through the edge seed of the row before, the needle
goes out through the seed added last. Going straight back through the seed just left would undo
the stitch; so the thread lies round that seed, along the edge, where it can be seen but lengthens
nothing. (It can be hidden by going out through the seed next to the edge; that takes one more
thread in that lane and pulls it aslant.)
"""

from __future__ import annotations

from collections.abc import Sequence

from tracker.design.demands import Demands
from tracker.design.model import Design
from tracker.path.band import Band
from tracker.path.builder import PathBuilder
from tracker.path.model import Heading, ThreadPath
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
    through,
    upright_at,
    way,
    zigzag,
)
from tracker.stitches.stitch import Stitch, shapes_of

TWO_ROWS = "two rows"


def weave(design: Design, rows: int) -> ThreadPath:
    """The thread path of `rows` rows (2 or more)."""
    seed, columns = design.own_seed, design.columns
    laddered = design.start == LADDER
    colour = STITCH.colouring(design, rows)
    build = PathBuilder(shapes_of(design))

    def pick_up(row: int, lane: int, *, out: bool, up: bool = True) -> int:
        lies = upright_at(seed, lane) if row == 1 and laddered else lean_at(seed, row, lane)
        return build.pick_up(seed.name, colour(row, lane), lies, back=out != up)

    first: list[int] = []
    build.start_row("start", "up", 0.0)
    if laddered:
        before = ladder(build, 2 * columns, pick_up, first_out=False)
    else:
        first, before = zigzag(build, columns, pick_up)
        build.pass_by(first[-1])
        through(build, before[-1], out=True)
        build.end_step(turn=True)
    build.end_row()
    for row in range(2, rows + 1):
        heading: Heading = "up" if row % 2 else "down"
        up = heading == "up"
        level = row if laddered else row + 1
        build.start_row("rows", heading, lean_at(seed, level, 1).x)
        there = [0] * (2 * columns)
        # Lanes as the needle comes to them, from 0; each column's first, then its second.
        lanes = list(range(2 * columns)) if up else list(range(2 * columns - 1, -1, -1))
        for i in range(0, 2 * columns, 2):
            one, other = lanes[i : i + 2]
            there[one] = pick_up(level, one + 1, out=True, up=up)
            there[other] = pick_up(level, other + 1, out=False, up=up)
            following = lanes[i + 2 : i + 3]
            in_the_way = [first[lane] for lane in (other, *following)] if first else [before[one]]
            for bead in in_the_way:
                build.pass_by(bead)
            through(build, before[other], out=False, up=up)
            for lane in following:
                through(build, before[lane], out=True, up=up)
            build.end_step()
        build.pass_by(before[lanes[-1]])
        through(build, there[lanes[-1]], out=True, up=up)
        build.end_step(turn=True)
        build.end_row()
        before, first = there, []
    return build.path()


def expected(band: Band) -> Expected:
    """The counts, by formula: two passes through each seed, one in and one out.

    A seed is picked up one way and gone through the other way from the row after, or at the turn;
    in the last row only the one at the turn has two. In a ladder a seed is gone through twice,
    those between two others three times, and once more from row 2, all but the one at which that
    begins; always the same way. In two strung rows the first row's are gone through once only.
    Each step of a row marks one seed to pass by; after a string the one or two of its first row.
    """
    lanes, columns, rows = band.lanes, band.columns, band.rows
    laddered = band.start != TWO_ROWS
    if laddered:
        first = [3] + [4] * (lanes - 2) + [2]
        passes = bytearray(first)
        upward = bytearray(n * (lane % 2) for lane, n in enumerate(first))
    else:
        passes = bytearray([1, 2, 2, 1] * columns)
        upward = bytearray([1, 1, 1, 0] * columns)
    passes += bytes([2] * lanes * (rows - 2)) + bytes([1] * (lanes - 1) + [2])
    upward += bytes([1] * lanes * (rows - 2)) + bytes([1, 0] * (columns - 1) + [1, 1])
    marked = (columns + 1) * (rows - 1)
    return Expected(
        tiles=0,
        seeds=lanes * (rows if laddered else rows + 1),
        passes=bytes(passes),
        upward=bytes(upward),
        passed_by=marked if laddered else marked + columns,
        hinges=_weak_seeds(lanes, rows, laddered=laddered),
        longest_span=longest_span(band.own_seed),
    )


def _weak_seeds(lanes: int, rows: int, *, laddered: bool) -> frozenset[int]:
    """Seeds that alone hold a part of the work.

    With two woven rows the last row's columns stand side by side without a thread between them:
    they hang together by the row before alone, seed by seed. From the third on nothing hangs so,
    but for the two ends of a string.
    """
    if laddered:
        return frozenset(range(1, lanes - 1) if rows == 2 else ())
    second_row = {bead for c in range(lanes // 2) for bead in (4 * c + 1, 4 * c + 2)}
    return frozenset(second_row if rows == 2 else {1, 2 * lanes - 2})


def _through(run: Run, *, full: bool) -> str:
    colour, kind = called(run.beads, run.beads.bead(run.first.bead))
    if run.row.section == "start":
        if not run.step.turn:
            return ladder_through(run, full=full)
        which = f"the {colour} {kind} before it, {way(run)}"
        return which if full else f"{colour} {kind} before it"
    if not run.step.turn:
        return column_through(run, full=full)
    which = f"the {colour} {kind} you added last, {way(run)}"
    return which if full else f"{colour} {kind} added last"


def _pass_by(run: Run, passed: Sequence[int], *, full: bool) -> str:
    name = " ".join(called(run.beads, run.beads.bead(passed[0])))
    if run.row.section == "start":
        return f"the last {name} of the string" if full else f"last {name}"
    if run.step.turn:
        return f"the {name} you have just come in through" if full else f"{name} you came by"
    return column_pass_by(run, passed, full=full)


def hint(row: int, step: int, lanes: int) -> str:
    """What a learner should see."""
    columns = lanes // 2
    if row == 1:
        return "nothing holds its shape yet; keep the tail in hand and the seeds in order"
    if step > columns:
        return "the thread lies along the edge; pull until it is snug, no further"
    if row == 2 and step == 1:
        return "the 2 new seeds come to stand side by side on top; hold the first row flat"
    if step == columns:
        return "the last column ends at the edge; the needle goes in and no further"
    return "the 2 new seeds lean together, like a roof"


STITCH = Stitch(
    name="one-hole herringbone",
    demands=Demands(
        tile=False, own_seeds=False, least=1, usual=4, in_rank=1, starts=(LADDER, TWO_ROWS)
    ),
    gauge=gauge,
    weave=weave,
    expected=expected,
    wording=Wording(
        through=_through, pass_by=_pass_by, together=lambda _run: None, turns_back=False
    ),
    hint=hint,
    longer_starts=(TWO_ROWS,),
)
