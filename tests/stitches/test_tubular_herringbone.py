"""Tubular herringbone against tables written by hand, formulas, a graph library and gauges."""

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from one_hole import a_seed_design, graph_of, proof_of, spoilt, table, woven

from tracker.design.model import Layout
from tracker.path.words import step_sentence
from tracker.pattern.compiler import compile_design, prove_pattern
from tracker.pattern.reader import parse_pattern
from tracker.stitches import find_stitch

NAME = "tubular herringbone"
starts = st.sampled_from(("ladder", "two rounds"))

FROM_A_LADDER = """\
1 up: +0^ +1v 0^ 1v
1 up: +2^ 1v 2^
1 up: +3v 2^ 3v
1 up: 0^ 3v 0^
2 up: +4^ +5v 1v 2^ !0
2 up: +6^ +7v 3v !2
2 up: 0^ 4^ turn
3 up: +8^ +9v 5v 6^ !4
3 up: +10^ +11v 7v !6
3 up: 4^ 8^ turn
"""
"""Two columns: a ladder of four, up through the first, down the last, up the first; pick up 2,
down 1, up 1, pick up 2, down 1; step up through the first seeds of both rounds; and again."""

FROM_TWO_ROUNDS = """\
1 up: +0^ +1^ +2v +3v
1 up: +4^ +5^ +6v +7v
1 up: 0^ 1^ turn
2 up: +8^ +9v 2v 5^ !3 !4
2 up: +10^ +11v 6v !7 !0
2 up: 1^ 8^ turn
3 up: +12^ +13v 9v 10^ !8
3 up: +14^ +15v 11v !10
3 up: 8^ 12^ turn
"""
"""Two columns on a string of eight, 0, 3, 4 and 7 of the first round, the others of the second:
through 0 and 1 again; pick up 2, down 2, skip 3 and 4, up 5, pick up 2, down 6; step up."""


@pytest.mark.parametrize(
    ("start", "by_hand"), [("ladder", FROM_A_LADDER), ("two rounds", FROM_TWO_ROUNDS)]
)
def test_pass_by_pass(start: str, by_hand: str) -> None:
    """Two columns by three rounds are woven as the table says, from either start."""
    assert by_hand.splitlines() == list(table(woven(a_seed_design(NAME, 2, 3, start=start))))


@given(columns=st.integers(2, 8), rounds=st.integers(2, 12), start=starts)
@settings(max_examples=40, deadline=None)
def test_every_size_is_proved(columns: int, rounds: int, start: str) -> None:
    """Any girth and length proves, again from its file, and has all its seeds."""
    done = compile_design(a_seed_design(NAME, columns, rounds, start=start))
    assert () == done.proof.faults == prove_pattern(parse_pattern(done.text)).faults
    rounds_of_seeds = rounds + (start == "two rounds")
    assert 2 * columns * rounds_of_seeds == done.pattern.totals.total()


@given(columns=st.integers(2, 6), rounds=st.integers(2, 7), start=starts)
@settings(max_examples=30, deadline=None)
def test_hangs_together_round_and_round(columns: int, rounds: int, start: str) -> None:
    """networkx: planar, no weak seed, and a tube whose rounds close to rings.

    It is the grid rolled up, without the lines that are not sewn yet, those of the last round from
    column to column, nor those that never are, of a string's first round inside its columns.
    """
    graph = graph_of(woven(a_seed_design(NAME, columns, rounds, start=start)))
    lanes, top = 2 * columns, rounds + (start == "two rounds")
    tube = nx.cartesian_product(nx.path_graph(top), nx.cycle_graph(lanes))
    between = [(2 * c + 1, (2 * c + 2) % lanes) for c in range(columns)]
    tube.remove_edges_from([((top - 1, one), (top - 1, other)) for one, other in between])
    if start == "two rounds":
        tube.remove_edges_from([((0, 2 * c), (0, 2 * c + 1)) for c in range(columns)])
    assert nx.check_planarity(graph)[0]
    assert nx.is_biconnected(graph)
    assert nx.is_isomorphic(tube, graph)


def test_bare_thread_is_short_round_the_seam() -> None:
    """Between the last lane and the first the thread goes the short way round the tube."""
    design = a_seed_design(NAME, 8, 6)
    path = woven(design)
    assert 16 * 2.1 == pytest.approx(path.around)
    flat = woven(a_seed_design("one-hole herringbone", 8, 6))
    # A round is a flat row, closed: two seeds more are gone through, and one turn at the edge less.
    more = [a.thread - b.thread for a, b in zip(path.rows[1:], flat.rows[1:], strict=True)]
    assert all(0 < extra < 2 * (1.4 + 2.1) for extra in more)


@pytest.mark.parametrize("start", ["ladder", "two rounds"])
@pytest.mark.parametrize(("columns", "rounds"), [(2, 4), (3, 3)])
def test_every_slip_is_noticed(columns: int, rounds: int, start: str) -> None:
    """No single slip of the needle in a small tube passes the proof."""
    design = a_seed_design(NAME, columns, rounds, start=start)
    good = woven(design)
    assert () == proof_of(design, good).faults
    assert [] == [what for what, path in spoilt(good) if not proof_of(design, path).faults]


def test_each_lane_is_gone_through_one_way() -> None:
    """Round a tube the first lane of a column is always upwards, the second always downwards."""
    path = woven(a_seed_design(NAME, 3, 5))
    lane = {bead.id: round(bead.place.y / 2.1 + 0.5) for row in path.rows for bead in row.beads}
    ways = {(lane[p.bead], p.up) for row in path.rows for step in row.steps for p in step.passes}
    assert {(n, n % 2 == 1) for n in range(1, 7)} == ways


@pytest.mark.parametrize(
    ("seed", "lanes_an_inch", "rounds_an_inch"), [("cylinder 11/0", 16, 18), ("11/0", 12, 17)]
)
def test_gauge(seed: str, lanes_an_inch: float, rounds_an_inch: float) -> None:
    """Seeds to the inch round and along, within 10 % of what the trade counts.

    Common practice, from memory: cylinder 11/0 about 16 by 18, round 11/0 about 12 by 17.
    """
    gauge = find_stitch(NAME).gauge(a_seed_design(NAME, 3, 10, seed=seed))
    assert lanes_an_inch == pytest.approx(25.4 / (gauge.width / 6), rel=0.1)
    assert rounds_an_inch == pytest.approx(25.4 / gauge.pitch, rel=0.1)


def test_two_strung_rounds_are_a_round_longer() -> None:
    """A string makes two rounds of seeds: as many woven rounds come out one pitch longer."""
    short, long = (
        find_stitch(NAME).gauge(a_seed_design(NAME, 3, 10, start=start))
        for start in ("ladder", "two rounds")
    )
    assert short.length(11) == pytest.approx(long.length(10))


def test_passed_by() -> None:
    """Never down through the seed that the thread comes from; after a string two are skipped."""
    marked = [
        [step.pass_by for row in woven(a_seed_design(NAME, 2, 3, start=start)).rows[1:]
         for step in row.steps]
        for start in ("ladder", "two rounds")
    ]  # fmt: skip
    assert [(0,), (2,), (), (4,), (6,), ()] == marked[0]
    assert [(3, 4), (7, 0), (), (8,), (10,), ()] == marked[1]


LADDER_WORDS = """\
pick up 2 lagoon seeds; go through the lagoon seed that you picked up first, again; \
go through the lagoon seed after it, again
pick up 1 sand seed; go through the lagoon seed before it, again; \
go through the sand seed you just added, again
pick up 1 sand seed; go through the sand seed before it, again; \
go through the sand seed you just added, again
go through the lagoon seed picked up first, out of the work; \
go through the sand seed picked up last, into the work; \
go through the lagoon seed picked up first, out of the work
pick up 2 lagoon seeds; pass by the lagoon seed that the thread comes from; \
go through the lagoon seed beside it, into the work; \
go through the sand seed that begins the next column, out of the work
pick up 2 sand seeds; pass by the sand seed that the thread comes from; \
go through the sand seed beside it, into the work
step up: go through the lagoon seed that begins the round before, out of the work; \
go through the lagoon seed that begins this round, out of the work
"""

SHORT_WORDS = """\
4 lagoon seeds
4 sand seeds
step up: the first one; the second one
2 lagoon seeds; past seeds of the first row; lagoon seed beside, in; \
sand seed of the next column, out
2 sand seeds; past seeds of the first row; sand seed beside, in
step up: first of the round before; first of this round
"""


@pytest.mark.parametrize(
    ("start", "full", "words"),
    [("ladder", True, LADDER_WORDS), ("two rounds", False, SHORT_WORDS)],
)
def test_words(start: str, *, full: bool, words: str) -> None:
    """Every kind of step is told as a teacher would; the turn is called a step up."""
    layout = Layout(seeds="", kind="lanes", lines=("AABB",))
    pattern = compile_design(a_seed_design(NAME, 2, 3, start=start, layout=layout)).pattern
    told = [
        step_sentence(pattern, pattern.row(r), step, full=full)
        for r in (0, 1)
        for step in pattern.row(r).steps
    ]
    assert words.splitlines() == told
