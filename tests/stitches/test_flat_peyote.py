"""Flat peyote against tables written out by hand, its formula, a graph library and its gauge."""

from dataclasses import replace

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from one_hole import (
    a_seed_design,
    graph_of,
    proof_of,
    spoilt,
    table,
    with_threads_gone_under,
    woven,
)

from tracker.design.model import Layout
from tracker.path.words import step_sentence
from tracker.pattern.compiler import compile_design, prove_pattern
from tracker.stitches import find_stitch

NAME = "flat peyote"

FOUR_BY_THREE = """\
1 up: +0^
1 up: +1^
1 up: +2^
1 up: +3^ turn
2 down: +4v 2v !3
2 down: +5v 0v !1 turn
3 up: +6^ 5^ !0
3 up: +7^ 4^ !2 turn
"""
"""Written by hand after the trade's way of telling it: string four; pick up one, skip one, go
through the next, to the end; and back. The first seed of a row turns it."""

FIVE_BY_SIX = """\
1 up: +0^
1 up: +1^
1 up: +2^
1 up: +3^
1 up: +4^ turn
2 down: +5v 3v !4
2 down: +6v 1v 0v !2
2 down: +7^ 1^ 2^
2 down: 6v 1v 0v 7^ turn
3 up: +8^ 6^ !1
3 up: +9^ 5^ !3 turn
4 down: +10v 9v !5
4 down: +11v 8v !6
4 down: +12v ~0~7 12^ turn
5 up: +13^ 11^ !8
5 up: +14^ 10^ !9 turn
6 down: +15v 14v !10
6 down: +16v 13v !11
6 down: +17v ~7~12 17^ turn
"""
"""Written by hand, common practice from memory. With the seeds counted from 1 as the trade does:
pick up 7, go through 2 and 1; pick up 8, go through 2, 3, 7, 2, 1 and 8. Later rows end with the
last seed picked up, under the thread between the two edge seeds before it, and back through."""

THREE_BY_FOUR = """\
1 up: +0^
1 up: +1^
1 up: +2^ turn
2 down: +3v 1v 0v !2
2 down: +4^ 1^ 2^
2 down: 3v 1v 0v 4^ turn
3 up: +5^ 3^ !1 turn
4 down: +6v 5v !3
4 down: +7v ~0~4 7^ turn
"""
"""The same with the narrowest odd number, where the first seed of row 2 is its last but one."""


@pytest.mark.parametrize(
    ("lanes", "rows", "by_hand"),
    [(4, 3, FOUR_BY_THREE), (5, 6, FIVE_BY_SIX), (3, 4, THREE_BY_FOUR)],
)
def test_pass_by_pass(lanes: int, rows: int, by_hand: str) -> None:
    """An even and two odd numbers of lanes are woven as the tables say, bead by bead."""
    assert by_hand.splitlines() == list(table(woven(a_seed_design(NAME, lanes, rows))))


@given(lanes=st.integers(2, 15), rows=st.integers(2, 14), seed=st.sampled_from(["15/0", "6/0"]))
@settings(max_examples=50, deadline=None)
def test_every_size_is_proved(lanes: int, rows: int, seed: str) -> None:
    """Any width and length proves, again from its file, and has as many seeds as are counted here.

    Every lane holds a seed of each second row of beads: (rows + 1) x lanes / 2 of them, and half
    a seed more where both ends of an odd band are in a row of the wider kind.
    """
    done = compile_design(a_seed_design(NAME, lanes, rows, seed=seed))
    assert () == done.proof.faults == prove_pattern(done.pattern).faults
    wider = 1 if lanes % 2 and rows % 2 == 0 else 0
    assert ((rows + 1) * lanes + wider) // 2 == done.pattern.totals.total()


@pytest.mark.parametrize("lanes", [2, 3, 79, 80])
def test_the_narrowest_and_the_widest(lanes: int) -> None:
    """The limits that the stitch gives are woven and proved."""
    design = a_seed_design(NAME, lanes, 7)
    assert find_stitch(NAME).demands.fits(lanes)
    assert () == proof_of(design, woven(design)).faults


@given(lanes=st.integers(2, 11), rows=st.integers(2, 11))
@settings(max_examples=30, deadline=None)
def test_hangs_together(lanes: int, rows: int) -> None:
    """networkx: one piece, planar, and no bead alone holds a part.

    But in a band of two rows, which is a chain of triangles: each seed of the string that row 2
    goes through is a link of it, the one at the very edge excepted.
    """
    path = woven(a_seed_design(NAME, lanes, rows))
    assert nx.check_planarity(with_threads_gone_under(path))[0]
    weak = set(range(1, lanes - 1, 2) if lanes % 2 else range(2, lanes, 2)) if rows == 2 else set()
    assert weak == set(nx.articulation_points(graph_of(path)))
    assert nx.is_connected(graph_of(path))


@pytest.mark.parametrize(("lanes", "rows"), [(2, 5), (3, 6), (4, 5), (5, 7), (7, 4)])
def test_every_slip_is_noticed(lanes: int, rows: int) -> None:
    """No single slip of the needle in a small band passes the proof."""
    design = a_seed_design(NAME, lanes, rows)
    good = woven(design)
    assert () == proof_of(design, good).faults
    assert [] == [what for what, path in spoilt(good) if not proof_of(design, path).faults]


def test_a_turn_that_catches_no_thread_is_noticed() -> None:
    """Back through the last seed without going under the thread undoes it: rule 2 says so."""
    design = a_seed_design(NAME, 5, 4)
    good = woven(design)
    loose = good.rows[3].steps[-1]._replace(under=())
    row = replace(good.rows[3], steps=(*good.rows[3].steps[:-1], loose))
    found = proof_of(design, replace(good, rows=(*good.rows[:3], row))).faults
    assert (2, 4, 3) == (found[0].rule, found[0].row, found[0].step)


@pytest.mark.parametrize(
    ("seed", "lanes_an_inch", "rows_an_inch"), [("cylinder 11/0", 20, 16.5), ("11/0", 18, 12)]
)
def test_gauge(seed: str, lanes_an_inch: float, rows_an_inch: float) -> None:
    """Seeds to the inch across, and along a lane (two rows each), within 10 % of what is counted.

    Common practice, from memory: cylinder 11/0 about 20 by 16 to 17, round 11/0 about 18 by 12.
    """
    gauge = find_stitch(NAME).gauge(a_seed_design(NAME, 10, 10, seed=seed))
    assert lanes_an_inch == pytest.approx(25.4 / (gauge.width / 10), rel=0.1)
    assert rows_an_inch == pytest.approx(25.4 / (2 * gauge.pitch), rel=0.1)


@given(lanes=st.integers(2, 9), rows=st.integers(2, 9))
@settings(max_examples=20, deadline=None)
def test_length_and_width_are_those_of_the_beads_laid_out(lanes: int, rows: int) -> None:
    """From the outline of the first seed to that of the last, both ways (rounded to 0.01 mm)."""
    design = a_seed_design(NAME, lanes, rows)
    gauge = find_stitch(NAME).gauge(design)
    places = [bead.place for row in woven(design).rows for bead in row.beads]
    xs, ys = [place.x for place in places], [place.y for place in places]
    seed = design.own_seed
    assert gauge.length(rows) == pytest.approx(max(xs) - min(xs) + seed.diameter, abs=0.02)
    assert gauge.width == pytest.approx(max(ys) - min(ys) + seed.length, abs=0.02)


def test_no_two_seeds_lie_in_one_place() -> None:
    """In a lane they lie a diameter apart, those of neighbouring lanes half a diameter."""
    path = woven(a_seed_design(NAME, 5, 8))
    lanes: dict[float, list[float]] = {}
    for row in path.rows:
        for bead in row.beads:
            lanes.setdefault(bead.place.y, []).append(bead.place.x)
    assert [0.7, 2.1, 3.5, 4.9, 6.3] == sorted(lanes)
    for lane, y in enumerate(sorted(lanes), start=1):
        first = 0.0 if lane % 2 else 1.05
        assert lanes[y] == pytest.approx([first + 2.1 * i for i in range(len(lanes[y]))])


@pytest.mark.parametrize(("lanes", "strung"), [(4, "BABA"), (5, "ABABA"), (2, "BA"), (3, "ABA")])
def test_the_string_is_two_rows_of_beads(lanes: int, strung: str) -> None:
    """In stripes of single rows of beads the string shows both colours by turns.

    It ends in the lower row, upon which row 2 begins. Of a chart it takes the whole first line.
    """
    layout = Layout(seeds="", kind="rows", lines=("A", "B"))
    path = woven(a_seed_design(NAME, lanes, 3, layout=layout))
    assert strung == "".join(bead.colour for bead in path.rows[0].beads)
    assert ["A", "B"] == ["".join({b.colour for b in row.beads}) for row in path.rows[1:]]
    chart = Layout(seeds="", kind="chart", lines=("A" * lanes, "B" * lanes))
    path = woven(a_seed_design(NAME, lanes, 3, layout=chart))
    assert ["A", "B", "B"] == ["".join({b.colour for b in row.beads}) for row in path.rows]


def test_the_low_seed_is_passed_by() -> None:
    """The usual slip, going through the low seed in the gap: each step marks that seed."""
    path = woven(a_seed_design(NAME, 6, 3))
    marked = [step.pass_by for row in path.rows[1:] for step in row.steps]
    assert [(5,), (3,), (1,), (0,), (2,), (4,)] == marked


def test_the_words_of_every_kind_of_step() -> None:
    """As a teacher says it: what to pick up, the low one to skip, the one standing out."""
    design = a_seed_design(NAME, 5, 4, layout=Layout(seeds="", kind="lanes", lines=("ABABA",)))
    pattern = compile_design(design).pattern

    def said(row: int, step: int, *, full: bool = True) -> str:
        there = pattern.row(row - 1)
        return step_sentence(pattern, there, there.steps[step - 1], full=full)

    assert "pick up 1 lagoon seed" == said(1, 1)
    assert (
        "pick up 1 lagoon seed; pass by the lagoon seed below it; "
        "go through the sand seed after that; go through the lagoon seed strung first"
    ) == said(2, 2)
    assert (
        "pick up 1 lagoon seed; go through the sand seed strung second; "
        "go through the lagoon seed strung third"
    ) == said(2, 3)
    assert (
        "turn: go through the lagoon seed you added last but one; "
        "go through the sand seed strung second; go through the lagoon seed strung first; "
        "go back through the lagoon seed you added last"
    ) == said(2, 4)
    assert (
        "pick up 1 sand seed; pass by the sand seed below it; "
        "go through the lagoon seed standing out"
    ) == said(3, 1)
    assert "1 sand seed; past sand below it; lagoon standing out" == said(3, 1, full=False)
    assert (
        "turn: pick up 1 lagoon seed; go under the thread between the 2 lagoon seeds; "
        "go back through the lagoon seed you just added"
    ) == said(4, 3)


def test_what_a_learner_is_told() -> None:
    """The string, the first row, the figure of eight, the turn under a thread, all else."""
    hint = find_stitch(NAME).hint
    odd = [hint(row, step, 5) for row, step in ((1, 5), (2, 2), (2, 3), (2, 4), (3, 1), (4, 3))]
    assert len(odd) == len(set(odd))
    assert {hint(3, 1, 4)} == {hint(4, 2, 4), hint(7, 1, 4)}
