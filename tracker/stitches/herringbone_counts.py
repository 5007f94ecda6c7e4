"""How often the needle is in each bead of two-hole herringbone: by formula, not by weaving.

To the band itself a closure adds, each on its own account: levelling, the way round the corner,
the way along the end, a round at each loop, weaving in. Beads are told by their row and column,
whatever the order in which the needle comes to them.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

from tracker.path.band import Band
from tracker.path.proof.expected import Expected
from tracker.stitches.herringbone_closures import EndPlan, plan_of
from tracker.stitches.herringbone_lattice import Ahead, Numbers

KNOTS = 3
"""Half-hitch knots at each end."""


def counts_of(band: Band, longest_span: float) -> Expected:
    """The counts of the band itself.

    With k seeds at a hinge and m at a cap, N R tiles and m (N + 1) + k N (R - 1) + (m - k) (R - 2)
    seeds: (N + 2) R + 2 N - 1 for k = 1 and m = 3. Of the last row all tiles but the one at the
    turn stand open. Lone seeds and the groups S1 ... SN hold the thread twice (the last row's lone
    seeds once), the group S(N + 1) and the turn seeds once. The cap at the first turn hangs on
    its own tile alone; in a band of two rows nothing else holds the columns together, so each
    hangs on the one below.
    """
    columns, rows, hinge, cap = band.columns, band.rows, band.hinge, band.cap
    strung = [2 if c <= columns else 1 for c in range(1, columns + 2)]
    passes = bytearray()
    for c in range(1, columns + 1):
        passes += bytes([strung[c - 1]] * cap + [2])
    passes += bytes([strung[columns]] * cap)
    middle_row = bytes([2] * (hinge + 1) * columns)
    last_row = bytes([1] * (hinge + 1) * (columns - 1) + [1] * hinge + [2])
    turn_seeds = bytes([1] * (cap - hinge))
    first_of_last = len(passes)
    if rows > 2:
        passes += middle_row
        passes += (middle_row + turn_seeds) * (rows - 3)
        first_of_last = len(passes)
    passes += last_row + (turn_seeds if rows > 2 else b"")
    open_tiles = frozenset(first_of_last + (hinge + 1) * i + hinge for i in range(columns - 1))
    first_turn_tile = (cap + 1) * columns - 1
    return Expected(
        tiles=columns * rows,
        seeds=cap * (columns + 1) + hinge * columns * (rows - 1) + (cap - hinge) * (rows - 2),
        passes=bytes(passes),
        open_tiles=open_tiles,
        # In every row after the return the needle passes by a tile, but in the last column.
        passed_by=(columns - 1) * (rows - 2),
        hinges=frozenset({first_turn_tile} if rows > 2 else range(cap, first_turn_tile + 1)),
        longest_span=longest_span,
        strings=True,
    )


def with_closure(woven: Expected, band: Band) -> Expected:
    """What a band of 4 rows or more comes to with its ends.

    Levelling seeds, as many in each gap as a turn takes; the seeds and findings of the loops, each
    with two threads in every hole. The loops hang on two beads, so nothing more falls off with any
    one bead than before.
    """
    columns, seed, closure = band.columns, band.own_seed, band.closure
    working = plan_of(closure, columns, seed, working_end=True)
    tail = plan_of(closure, columns, seed, working_end=False)
    n = Numbers(columns, band.hinge, band.cap)
    level = (band.cap - band.hinge) * columns
    more = Counter(_working_end(Ahead(n, band.rows), working))
    more.update(_tail_end(n, tail))
    passes = bytearray(woven.passes) + bytes([1] * level)
    for bead, times in more.items():
        passes[bead] += times
    findings = loops = 0
    for plan in (working, tail):
        for _ in plan.columns:
            assert plan.loop is not None, "a loop is of something"
            passes += bytes([2] * plan.loop.out)
            if plan.loop.finding is not None:
                findings += 1
                passes.append(4 if plan.loop.finding.hole_spacing else 2)
            passes += bytes([2] * plan.loop.back)
            loops += plan.loop.seeds
    assert len(woven.passes) == n.end(band.rows), "the levelling seeds come right after the band's"
    notes = Counter({"stop-bead-off": 1, "tail": 1, "trim": 2, "knot": 2 * KNOTS})
    notes.update([*working.finish, *tail.finish])
    return replace(
        woven,
        seeds=woven.seeds + level + loops,
        passes=bytes(passes),
        open_tiles=frozenset(),
        findings=findings,
        notes=dict(notes),
    )


def _working_end(end: Ahead, plan: EndPlan) -> Iterator[int]:
    """The beads that the needle is in once more, once for each time, in no order."""
    last, rows = end.numbers.columns, end.rows
    corner = (end.tile(rows - 1, last), *end.numbers.turn(rows - 1))
    # Levelling: every lone seed of the last row, and the tiles that stood open.
    yield from (seed for k in range(1, last + 1) for seed in end.lone(rows, k))
    yield from (end.tile(rows, k) for k in range(2, last + 1))
    # The corner: the last tile of the row before by both holes, its cap, the seed beside it.
    yield from (*corner, *end.lone(rows - 2, last), end.tile(rows - 1, last))
    if not plan.columns:
        yield from (*end.lone(rows - 1, last), end.tile(rows - 1, last - 1))
        return
    yield from (end.tile(rows, last), *end.level(last))
    for k in range(last - 1, plan.columns[-1] - 1, -1):
        yield from (*end.lone(rows, k), *end.level(k))
        if k + 1 not in plan.columns:
            yield end.tile(rows, k + 1)
    for k in plan.columns:
        # In at the tile, round inside, out by its other hole and the group, in at the tile again.
        yield from [end.tile(rows, k)] * 3
        yield from (*end.inner(k), *end.lone(rows - 1, k), *end.level(k))
    k = plan.columns[-1]
    yield from (*end.inner(k), *end.lone(rows - 1, k))
    yield from (end.tile(rows - 1, k), *end.lone(rows - 2, k))
    if k < last:
        yield from (end.tile(rows - 2, k + 1), *end.lone(rows - 1, k + 1))
    else:
        yield from corner


def _tail_end(n: Numbers, plan: EndPlan) -> Iterator[int]:
    """The same for the end with the tail."""
    yield from (n.tile(2, 1), *n.lone(3, 1, up=True), n.tile(3, 1))
    if not plan.columns:
        yield from (*n.lone(2, 1, up=True), n.tile(2, 2), *n.lone(3, 2, up=True))
        return
    yield from (n.tile(2, 1), n.tile(1, 1))
    for at, to in pairwise((1, *plan.columns)):
        # Along the edge the tiles; the groups too, but for those that a loop has come back by.
        yield from (n.tile(1, c) for c in range(at + 1, to + 1))
        came_by_loop = at in plan.columns
        for c in range(at + 2 if came_by_loop else at + 1, to + 1):
            yield from n.group(c)
    for c in plan.columns:
        yield from (*n.group(c + 1), *n.group(c + 1))
        yield from (n.tile(1, c), *n.lone(2, c, up=True), n.tile(2, c), n.tile(1, c))
    c = plan.columns[-1]
    yield from (n.tile(1, c), *n.lone(2, c, up=True), n.tile(3, c))
    yield from (*n.lone(3, c, up=True), n.tile(2, c))
