"""Tubular peyote against a table written out by hand, its formula and a graph library."""

import math

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from one_hole import a_seed_design, graph_of, proof_of, spoilt, table, woven

from tracker.path.words import step_sentence
from tracker.pattern.compiler import compile_design, prove_pattern
from tracker.stitches import find_stitch

NAME = "tubular peyote"

FOUR_ROUND_THREE = """\
1 up: +0^
1 up: +1^
1 up: +2^
1 up: +3^
1 up: 0^
2 up: +4^ 2^ !1
2 up: +5^ 0^ !3
2 up: 4^ turn
3 up: +6^ 5^ !2
3 up: +7^ 4^ !0
3 up: 6^ turn
"""
"""Written by hand after the trade's way of telling it: string four, go through the first again;
pick up one, skip one, go through the next, all round; step up through the first of the round."""


def test_pass_by_pass() -> None:
    """Four about by three rounds are woven as the table says, bead by bead."""
    assert FOUR_ROUND_THREE.splitlines() == list(table(woven(a_seed_design(NAME, 4, 3))))


@given(half=st.integers(2, 9), rows=st.integers(2, 12), seed=st.sampled_from(["15/0", "6/0"]))
@settings(max_examples=40, deadline=None)
def test_every_size_is_proved(half: int, rows: int, seed: str) -> None:
    """Any even number about and any length proves, again from its file: half as many a round."""
    done = compile_design(a_seed_design(NAME, 2 * half, rows, seed=seed))
    assert () == done.proof.faults == prove_pattern(done.pattern).faults
    assert half * (rows + 1) == done.pattern.totals.total()


def test_only_even_numbers_go() -> None:
    """With an odd number about there is no step up: it is refused."""
    fits = find_stitch(NAME).demands.fits
    assert [4, 6, 8, 80] == [lanes for lanes in (2, 3, 4, 5, 6, 7, 8, 80, 82) if fits(lanes)]


@given(half=st.integers(2, 6), rows=st.integers(2, 9))
@settings(max_examples=30, deadline=None)
def test_hangs_together_and_round(half: int, rows: int) -> None:
    """networkx: planar as a tube is, no bead alone holds a part, and every round closes.

    A flat band of as many seeds has an edge on either side; cut along the tube between any two
    lanes, the graph loses lines, so it is truly closed there.
    """
    path = woven(a_seed_design(NAME, 2 * half, rows))
    graph = graph_of(path)
    assert nx.check_planarity(graph)[0]
    assert nx.is_biconnected(graph)
    lane = {b.id: round(b.place.y / 1.4 + 0.5) for row in path.rows for b in row.beads}
    for beside in range(1, 2 * half + 1):
        pair = {beside, beside % (2 * half) + 1}
        crossing = [line for line in graph.edges if {lane[line[0]], lane[line[1]]} == pair]
        # Every row of beads crosses from each lane to the next.
        assert len(crossing) >= rows


def test_the_string_is_a_ring() -> None:
    """The first round alone is a ring: its beads make one circle (networkx)."""
    path = woven(a_seed_design(NAME, 8, 2))
    ring = graph_of(path).subgraph(range(8))
    assert nx.is_isomorphic(nx.cycle_graph(8), ring)


@pytest.mark.parametrize(("lanes", "rows"), [(4, 4), (6, 4), (8, 3)])
def test_every_slip_is_noticed(lanes: int, rows: int) -> None:
    """No single slip of the needle in a small tube passes the proof."""
    design = a_seed_design(NAME, lanes, rows)
    good = woven(design)
    assert () == proof_of(design, good).faults
    assert [] == [what for what, path in spoilt(good) if not proof_of(design, path).faults]


def test_each_round_begins_one_lane_further_on() -> None:
    """The step up goes through the first seed of its round, and so the seam climbs as a spiral."""
    path = woven(a_seed_design(NAME, 6, 9))
    for row in path.rows[1:]:
        (up,) = row.steps[-1].passes
        assert row.steps[-1].turn
        assert row.beads[0].id == up.bead
    begun = [round(row.beads[0].place.y / 1.4 + 0.5) for row in path.rows]
    assert [1, 2, 3, 4, 5, 6, 1, 2, 3] == begun


def test_rounds_go_one_way() -> None:
    """On a tube the needle never turns back."""
    path = woven(a_seed_design(NAME, 6, 7))
    assert {"up"} == {row.heading for row in path.rows}
    assert all(p.up for row in path.rows for step in row.steps for p in step.passes)


def test_bare_thread_is_short_over_the_seam_as_well() -> None:
    """A round takes up, seed by seed, its passages and half a diameter between them.

    And so does every round, wherever it crosses the seam.
    """
    path = woven(a_seed_design(NAME, 8, 11))
    passes = 4 + 4 + 1
    for row in path.rows[1:]:
        assert passes * (1.4 + 2.1 / 2) == pytest.approx(row.thread, abs=0.3)


@pytest.mark.parametrize(("seed", "about"), [("11/0", 12), ("cylinder 11/0", 24)])
def test_gauge(seed: str, about: int) -> None:
    """The girth is so many seeds end to end, and the length that of flat peyote.

    Common practice, from memory: a rope of twelve 11/0 about is 5 to 6 mm thick.
    """
    gauge = find_stitch(NAME).gauge(a_seed_design(NAME, about, 10, seed=seed))
    flat = find_stitch("flat peyote").gauge(a_seed_design("flat peyote", about, 10, seed=seed))
    assert flat == gauge
    pattern = compile_design(a_seed_design(NAME, about, 10, seed=seed)).pattern
    assert gauge.width == pytest.approx(pattern.around)
    if seed == "11/0":
        assert 5.0 < gauge.width / math.pi < 6.0


def test_the_low_seed_is_passed_by() -> None:
    """The usual slip, going through the low seed in the gap: each step marks that seed."""
    path = woven(a_seed_design(NAME, 6, 3))
    marked = [step.pass_by for row in path.rows[1:] for step in row.steps]
    assert [(1,), (3,), (5,), (), (2,), (4,), (0,), ()] == marked


def test_the_words_of_every_kind_of_step() -> None:
    """The ring, the first round, a round, the step up; and no turn is spoken of."""
    pattern = compile_design(a_seed_design(NAME, 6, 4)).pattern

    def said(row: int, step: int, *, full: bool = True) -> str:
        there = pattern.row(row - 1)
        return step_sentence(pattern, there, there.steps[step - 1], full=full)

    assert "pick up 1 sand seed" == said(1, 6)
    assert "go through the lagoon seed strung first, which closes the ring" == said(1, 7)
    assert (
        "pick up 1 sand seed; pass by the sand seed below it; go through the lagoon seed after that"
    ) == said(2, 3)
    assert "step up: go through the sand seed that this round began with" == said(2, 4)
    assert "step up: sand first of the round" == said(2, 4, full=False)
    assert (
        "pick up 1 lagoon seed; pass by the lagoon seed below it; "
        "go through the sand seed standing out"
    ) == said(3, 3)


def test_what_a_learner_is_told() -> None:
    """Stringing, the ring, the first round, a round, its last seed and the step up."""
    hint = find_stitch(NAME).hint
    told = [hint(row, step, 8) for row, step in ((1, 8), (1, 9), (2, 1), (3, 1), (3, 4), (3, 5))]
    assert len(told) == len(set(told))
    assert "step up" in hint(9, 5, 8)
