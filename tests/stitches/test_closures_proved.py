"""Every closure on every width, the last row up or down: proof, counts, and how it all hangs."""

from collections import Counter
from dataclasses import replace
from itertools import pairwise

import networkx as nx  # type: ignore[import-untyped]  # it carries no types
import pytest
from weaving import (
    STITCH,
    a_design,
    beads_of,
    closed_with,
    passes_of,
    places_of_passes,
    proof_of,
    tile_of,
    with_passes,
    with_step,
    woven,
)

from tracker.design.model import Closure, ClosureKind
from tracker.path.model import Pass, Step, ThreadPath
from tracker.pattern.compiler import compile_design, prove_pattern
from tracker.problems import ProblemsError
from tracker.stitches.herringbone_closures import spread_columns

KINDS: tuple[ClosureKind, ...] = ("wire guards", "bead loops", "ribbon ends", "button loop")
WIDTHS = range(2, 13)
LENGTHS = (4, 5, 8, 9)
"""Rows: the last goes down, up, down, up; the shortest have both ends in the same rows."""

every_closure = pytest.mark.parametrize("kind", KINDS)
every_width = pytest.mark.parametrize("columns", WIDTHS)


def closed(kind: ClosureKind, columns: int, rows: int, rings: int | None = None) -> ThreadPath:
    """The path of a band with that closure."""
    closure = closed_with(kind, columns, rings)
    return STITCH.weave(a_design(columns, rows, closure=closure), rows)


def rings_of(kind: ClosureKind, columns: int) -> int:
    """Loops at each end."""
    return {"bead loops": min(columns, 3), "ribbon ends": 0}.get(kind, 1)


@every_closure
@every_width
def test_proved(kind: ClosureKind, columns: int) -> None:
    """The whole path, ends and all, breaks no rule."""
    for rows in LENGTHS:
        path = closed(kind, columns, rows)
        assert () == proof_of(path, columns, closure=closed_with(kind, columns)).faults


@every_width
def test_any_number_of_rings(columns: int) -> None:
    """A bar clasp may have as many rings as the band has columns, or fewer."""
    for rings in range(1, columns + 1):
        for rows in (6, 7):
            closure = closed_with("bead loops", columns, rings)
            path = closed("bead loops", columns, rows, rings)
            assert () == proof_of(path, columns, closure=closure).faults


@every_closure
@every_width
def test_band_is_the_same_with_and_without(kind: ClosureKind, columns: int) -> None:
    """A closure is woven behind the rows and changes none of them."""
    for rows in LENGTHS:
        band = woven(columns, rows).rows
        path = closed(kind, columns, rows)
        assert band == path.rows[:rows]
        assert list(range(1, len(path.rows) + 1)) == [row.number for row in path.rows]
        names = list(dict.fromkeys(row.section for row in path.rows))
        assert ["start", "rows", "levelling", "first end", "second end"] == names


@every_closure
@every_width
def test_beads_counted(kind: ClosureKind, columns: int) -> None:
    """Two levelling seeds a gap; six seeds and a guard, eight and a ring, or 26 for a button."""
    # A button 11 mm across and 3 mm thick goes through 14 mm of seeds a side: 13 of 1.1 mm.
    loops = {"wire guards": 12, "bead loops": 16, "ribbon ends": 0, "button loop": 6 + 26}
    hung = {"wire guards": 2, "bead loops": 2, "ribbon ends": 0, "button loop": 1}
    for rows in LENGTHS:
        kinds = Counter(bead.kind for bead in beads_of(closed(kind, columns, rows)).values())
        rings = max(1, rings_of(kind, columns))
        seeds = (columns + 2) * rows + 2 * columns - 1 + 2 * columns + loops[kind] * rings
        due = {"tile": columns * rows, "seed": seeds, "finding": hung[kind] * rings}
        assert {key: number for key, number in due.items() if number} == kinds


@every_closure
@every_width
def test_nothing_stands_open_after_levelling(kind: ClosureKind, columns: int) -> None:
    """Levelling fills the N - 1 holes that the last row has left, and then all are full."""
    for rows in LENGTHS:
        path = closed(kind, columns, rows)
        level = next(row for row in path.rows if row.section == "levelling")
        assert columns - 1 == sum(p.hole == "b" for step in level.steps for p in step.passes)
        filled = {(p.bead, p.hole) for p in passes_of(path) if p.hole}
        tiles = {bead.id for bead in beads_of(path).values() if bead.kind == "tile"}
        assert {(tile, hole) for tile in tiles for hole in "ab"} <= filled


@every_closure
@every_width
def test_loops_are_gone_round_twice(kind: ClosureKind, columns: int) -> None:
    """Every hole of a loop, seeds and finding, has two threads: the loop and its second round."""
    path = closed(kind, columns, 8)
    ends = {
        bead.id
        for row in path.rows
        if row.section in ("first end", "second end")
        for bead in row.beads
    }
    passes = Counter((p.bead, p.hole) for p in passes_of(path) if p.bead in ends)
    assert ({2} if ends else set()) == set(passes.values())


@every_closure
@every_width
def test_no_hole_is_crammed(kind: ClosureKind, columns: int) -> None:
    """Longer bands have at most four threads in a seed, as many as fit 15/0 with 0.2 mm."""
    for rows in (6, 7, 8, 9):
        passes = Counter((p.bead, p.hole) for p in passes_of(closed(kind, columns, rows)))
        assert max(passes.values()) <= 4


@every_closure
@every_width
def test_hangs_together(kind: ClosureKind, columns: int) -> None:
    """Connected and planar by networkx; the first turn's tile is the only weak bead, as before."""
    for rows in LENGTHS:
        path = closed(kind, columns, rows)
        graph = graph_of(path)
        assert nx.is_connected(graph)
        assert nx.check_planarity(graph)[0]
        assert {tile_of(path, 1, columns)} == set(nx.articulation_points(graph))


def graph_of(path: ThreadPath) -> nx.Graph:
    """Beads joined by spans; the tail goes on from the very first bead."""
    graph = nx.Graph()
    lengths: list[list[int]] = [[]]
    for row in path.rows:
        for step in row.steps:
            if step.note == "tail":
                lengths.append([lengths[0][0]])
            lengths[-1] += [p.bead for p in step.passes]
    for beads in lengths:
        graph.add_edges_from((a, b) for a, b in pairwise(beads) if a != b)
    return graph


@every_closure
@every_width
def test_knots_and_what_else_is_done(kind: ClosureKind, columns: int) -> None:
    """Three half-hitch knots an end (common practice), both threads trimmed, one tail."""
    path = closed(kind, columns, 8)
    notes = [step.note for row in path.rows for step in row.steps if step.note]
    found = Counter(notes)
    assert (6, 2, 1, 1) == tuple(found[n] for n in ("knot", "trim", "tail", "stop-bead-off"))
    assert (2 if kind == "ribbon ends" else 0) == found["glue"] == found["press"]
    assert "check" == notes[-1]
    assert notes.index("trim") < notes.index("tail")


def test_loops_are_spread_over_the_width() -> None:
    """As many different columns as rings, the same from either edge where that can be."""
    for columns in WIDTHS:
        for rings in range(1, columns + 1):
            at = spread_columns(rings, columns)
            assert rings == len(set(at))
            assert sorted(at) == list(at)
            assert 1 <= at[0] <= at[-1] <= columns
    assert (1, 2, 3) == spread_columns(3, 3)
    assert (2, 6, 10) == spread_columns(3, 11)


# --- spoilt ends ------------------------------------------------------------------------------


GUARDS = closed_with("wire guards")
GOOD = closed("wire guards", 2, 4)


def noticed(path: ThreadPath, closure: Closure = GUARDS) -> set[int]:
    """The rules that a path breaks."""
    return {fault.rule for fault in proof_of(path, closure=closure).faults}


def spoilt(row: int, step: int, at: int, *new: Pass) -> ThreadPath:
    """The good path with other passes in place of one; rows and steps count from 1."""
    passes = list(GOOD.rows[row - 1].steps[step - 1].passes)
    return with_passes(GOOD, row, step, [*passes[:at], *new, *passes[at + 1 :]])


def test_every_slip_at_the_ends_is_noticed() -> None:
    """One by one: every pass of the ends left out, doubled, turned, or made in the next hole."""
    missed = []
    tried = 0
    last = len(beads_of(GOOD)) - 1
    for row, step, i in places_of_passes(GOOD):
        if row <= 4:
            continue
        old = GOOD.rows[row - 1].steps[step - 1].passes[i]
        others = [
            (),
            (old, old),
            (old._replace(up=not old.up),),
            (old._replace(picked_up=not old.picked_up),),
            *((old._replace(hole=hole),) for hole in ("", "a", "b") if hole != old.hole),
            *((old._replace(bead=b),) for b in range(last + 1) if b != old.bead),
        ]
        tried += len(others)
        missed += [new for new in others if not noticed(spoilt(row, step, i, *new))]
    assert tried > 3000
    assert [] == missed


def test_steps_without_beads_are_counted() -> None:
    """A knot forgotten, a note beside passes, an empty step: all are told."""
    knot = GOOD.rows[7].steps[0]
    assert "knot" == knot.note
    assert {7} == noticed(with_step(GOOD, 8, 1, knot._replace(note="check")))
    assert {7} == noticed(with_step(GOOD, 8, 1, Step(())))
    both = GOOD.rows[7].steps[1]._replace(note="knot")
    assert 7 in noticed(with_step(GOOD, 8, 2, both))


def test_going_on_without_thread() -> None:
    """Once the thread is trimmed only the tail leads on, and it begins where it hangs."""
    assert 3 in noticed(with_step(GOOD, 9, 2, GOOD.rows[8].steps[1]._replace(note="knot")))
    away = GOOD.rows[8].steps[2].passes[1:]
    assert 3 in noticed(with_passes(GOOD, 9, 3, list(away)))


def test_tail_back_through_its_own_seed() -> None:
    """The tail cannot begin with the seed that it comes out of: it would pull itself out."""
    first = passes_of(GOOD)[0]._replace(picked_up=False)
    assert 2 in noticed(with_passes(GOOD, 9, 3, [first, *GOOD.rows[8].steps[2].passes]))


def test_ends_left_out_or_mixed_up() -> None:
    """A band whose ends are missing, or are those of another closure, is not what was asked for."""
    assert noticed(replace(GOOD, rows=GOOD.rows[:4]))
    assert noticed(replace(GOOD, rows=GOOD.rows[:8]))
    for kind in KINDS[1:]:
        assert noticed(GOOD, closed_with(kind))
    assert proof_of(GOOD).faults


@pytest.mark.parametrize("kind", ["wire guards", "bead loops", "ribbon ends", "button loop"])
@pytest.mark.parametrize(
    "beads", [("quarter tile", "15/0"), ("quarter tile", "11/0"), ("two-hole oval", "15/0")]
)
def test_ends_of_other_beads(beads: tuple[str, str], kind: ClosureKind) -> None:
    """Other tiles with the seeds that fit them close as well, the last row up or down."""
    for columns, rows in ((2, 4), (2, 9), (4, 5), (4, 8)):
        design = a_design(columns, rows, beads=beads, closure=closed_with(kind, columns))
        done = compile_design(design)
        assert () == done.proof.faults == prove_pattern(done.pattern).faults


def test_ends_that_beads_forbid_are_told_from_beads_that_forbid_the_band() -> None:
    """Full tiles leave no pocket: the band is woven, but a guard cannot be proved on it."""
    beads = ("full tile", "15/0")
    assert () == compile_design(a_design(2, 8, beads=beads)).proof.faults
    with pytest.raises(ProblemsError) as caught:
        compile_design(a_design(2, 8, beads=beads, closure=closed_with("wire guards")))
    (problem,) = caught.value.problems
    assert "closure.kind" == problem.where
    assert "the ends with wire guards cannot be proved with these beads" == problem.what
