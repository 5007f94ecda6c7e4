"""Flat one-hole herringbone against tables written by hand, formulas, graphs and gauges."""

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

NAME = "one-hole herringbone"
starts = st.sampled_from(("ladder", "two rows"))

FROM_A_LADDER = """\
1 up: +0v +1^ 0v 1^
1 up: +2v 1^ 2v
1 up: +3^ 2v 3^
2 down: +4^ +5v 2v 1^ !3
2 down: +6^ +7v 0v !1
2 down: 7^ !0 turn
3 up: +8^ +9v 6v 5^ !7
3 up: +10^ +11v 4v !5
3 up: 11^ !4 turn
"""
"""Two columns: a ladder of four, its last seed gone through upwards; pick up 2, down 1, up 1, pick
up 2, down 1 at the edge; up through the seed added last; and the same back."""

FROM_TWO_ROWS = """\
1 up: +0^ +1^ +2v +3v
1 up: +4^ +5^ +6v +7v
1 up: 6^ !7 turn
2 down: +8^ +9v 5v 2^ !4 !3
2 down: +10^ +11v 1v !0
2 down: 11^ !1 turn
3 up: +12^ +13v 10v 9^ !11
3 up: +14^ +15v 8v !9
3 up: 15^ !8 turn
"""
"""Two columns on a string of eight: 1 of the first row (0), 2 of the second (1, 2), 2 of the first
(3, 4), 2 of the second (5, 6), 1 of the first (7). Skip the last one, go back through 6; then
pick up 2, go through 5, skip 4 and 3, through 2, pick up 2, through 1."""


@pytest.mark.parametrize(
    ("start", "by_hand"), [("ladder", FROM_A_LADDER), ("two rows", FROM_TWO_ROWS)]
)
def test_pass_by_pass(start: str, by_hand: str) -> None:
    """Two columns by three rows are woven as the table says, from either start."""
    assert by_hand.splitlines() == list(table(woven(a_seed_design(NAME, 2, 3, start=start))))


@given(columns=st.integers(1, 8), rows=st.integers(2, 12), start=starts)
@settings(max_examples=40, deadline=None)
def test_every_size_is_proved(columns: int, rows: int, start: str) -> None:
    """Any width and length proves, again from its file, and has all its seeds."""
    done = compile_design(a_seed_design(NAME, columns, rows, start=start))
    assert () == done.proof.faults == prove_pattern(parse_pattern(done.text)).faults
    rows_of_seeds = rows + (start == "two rows")
    assert 2 * columns * rows_of_seeds == done.pattern.totals.total()


@given(columns=st.integers(1, 6), rows=st.integers(2, 8), start=starts)
@settings(max_examples=30, deadline=None)
def test_hangs_together(columns: int, rows: int, start: str) -> None:
    """networkx: planar, and the grid without those lines that no thread of herringbone makes.

    The last row is not sewn together from column to column yet, two strung rows are not sewn
    together inside a column at their lower edge. The weak seeds are those that the stitch names.
    """
    design = a_seed_design(NAME, columns, rows, start=start)
    graph = graph_of(woven(design))
    top = rows if start == "ladder" else rows + 1
    grid = nx.grid_2d_graph(range(1, top + 1), range(1, 2 * columns + 1))
    grid.remove_edges_from([((top, 2 * c), (top, 2 * c + 1)) for c in range(1, columns)])
    if start == "two rows":
        grid.remove_edges_from([((1, 2 * c - 1), (1, 2 * c)) for c in range(1, columns + 1)])
    assert nx.check_planarity(graph)[0]
    assert nx.is_isomorphic(grid, graph)
    stitch = find_stitch(NAME)
    hinges = stitch.expected(stitch.band(design, rows)).hinges
    assert set(nx.articulation_points(graph)) == hinges


def test_weak_seeds() -> None:
    """From the third row on only the two ends of a string hang on one seed alone."""
    stitch = find_stitch(NAME)

    def weak(start: str, rows: int) -> set[int]:
        design = a_seed_design(NAME, 3, rows, start=start)
        return set(stitch.expected(stitch.band(design, rows)).hinges)

    assert [set(), set()] == [weak("ladder", rows) for rows in (3, 9)]
    # The second and the last but one of twelve.
    assert [{1, 10}, {1, 10}] == [weak("two rows", rows) for rows in (3, 9)]


@pytest.mark.parametrize("start", ["ladder", "two rows"])
@pytest.mark.parametrize(("columns", "rows"), [(1, 3), (2, 4), (3, 3)])
def test_every_slip_is_noticed(columns: int, rows: int, start: str) -> None:
    """No single slip of the needle in a small band passes the proof."""
    design = a_seed_design(NAME, columns, rows, start=start)
    good = woven(design)
    assert () == proof_of(design, good).faults
    assert [] == [what for what, path in spoilt(good) if not proof_of(design, path).faults]


@pytest.mark.parametrize(
    ("seed", "lanes_an_inch", "rows_an_inch"), [("cylinder 11/0", 16, 18), ("11/0", 12, 17)]
)
def test_gauge(seed: str, lanes_an_inch: float, rows_an_inch: float) -> None:
    """Seeds to the inch across and along, within 10 % of what the trade counts.

    Common practice, from memory: cylinder 11/0 about 16 by 18, round 11/0 about 12 by 17.
    """
    gauge = find_stitch(NAME).gauge(a_seed_design(NAME, 5, 10, seed=seed))
    assert lanes_an_inch == pytest.approx(25.4 / (gauge.width / 10), rel=0.1)
    assert rows_an_inch == pytest.approx(25.4 / gauge.pitch, rel=0.1)


def test_two_strung_rows_are_a_row_longer() -> None:
    """A string makes two rows of seeds: as many woven rows come out one pitch longer."""
    short, long = (
        find_stitch(NAME).gauge(a_seed_design(NAME, 3, 10, start=start))
        for start in ("ladder", "two rows")
    )
    assert short.length(11) == pytest.approx(long.length(10))


def test_seeds_lean_together_outwards() -> None:
    """Along the growing direction the two seeds of a column come nearer to each other."""
    beads = woven(a_seed_design(NAME, 2, 3)).rows[2].beads
    assert [-75.0, -105.0, -75.0, -105.0] == [bead.place.tilt for bead in beads]


def test_colours_by_row_and_lane() -> None:
    """Every seed lies in its row and lane of the chart, a line a row; a string has two lines."""
    lines = ("AABB", "ABAB", "BBBA")
    layout = Layout(seeds="", kind="chart", lines=lines)
    for start in ("ladder", "two rows"):
        design = a_seed_design(NAME, 2, 4, start=start, layout=layout)
        pitch = find_stitch(NAME).gauge(design).pitch
        for row in woven(design).rows:
            for bead in row.beads:
                line, lane = round(bead.place.x / pitch), round(bead.place.y / 2.1 - 0.5)
                assert lines[line % 3][lane] == bead.colour


def test_passed_by() -> None:
    """Never down through the seed that the thread comes out of, nor straight back at the turn.

    After a string the seeds of its first row are skipped instead.
    """
    marked = [
        [step.pass_by for row in woven(a_seed_design(NAME, 2, 3, start=start)).rows[1:]
         for step in row.steps]
        for start in ("ladder", "two rows")
    ]  # fmt: skip
    assert [(3,), (1,), (0,), (7,), (5,), (4,)] == marked[0]
    assert [(4, 3), (0,), (1,), (11,), (9,), (8,)] == marked[1]


LADDER_WORDS = """\
pick up 2 lagoon seeds; go through the lagoon seed that you picked up first, again; \
go through the lagoon seed after it, again
pick up 1 sand seed; go through the lagoon seed before it, again; \
go through the sand seed you just added, again
pick up 1 sand seed; go through the sand seed before it, again; \
go through the sand seed you just added, again
pick up 2 sand seeds; pass by the sand seed that the thread comes from; \
go through the sand seed beside it, into the work; \
go through the lagoon seed that begins the next column, out of the work
pick up 2 lagoon seeds; pass by the lagoon seed that the thread comes from; \
go through the lagoon seed beside it, into the work
turn: pass by the lagoon seed you have just come in through; \
go through the lagoon seed you added last, out of the work
"""

STRING_WORDS = """\
pick up 4 lagoon seeds
pick up 4 sand seeds
turn: pass by the last sand seed of the string; go through the sand seed before it, out of the work
pick up 2 sand seeds; pass by the seeds of the first row; \
go through the next sand seed of the second row, into the work; \
go through the lagoon seed that begins the next column, out of the work
pick up 2 lagoon seeds; pass by the end of the first row; \
go through the next lagoon seed of the second row, into the work
turn: pass by the lagoon seed you have just come in through; \
go through the lagoon seed you added last, out of the work
"""

SHORT_WORDS = """\
4 lagoon seeds
4 sand seeds
turn: past last sand seed; sand seed before it
2 sand seeds; past seeds of the first row; sand seed beside, in; lagoon seed of the next column, out
2 lagoon seeds; past end of the first row; lagoon seed beside, in
turn: past lagoon seed you came by; lagoon seed added last
"""


@pytest.mark.parametrize(
    ("start", "full", "words"),
    [
        ("ladder", True, LADDER_WORDS),
        ("two rows", True, STRING_WORDS),
        ("two rows", False, SHORT_WORDS),
    ],
)
def test_words(start: str, *, full: bool, words: str) -> None:
    """Every kind of step is told as a teacher would, "in" and "out" for the trade's down and up."""
    layout = Layout(seeds="", kind="lanes", lines=("AABB",))
    pattern = compile_design(a_seed_design(NAME, 2, 3, start=start, layout=layout)).pattern
    told = [
        step_sentence(pattern, pattern.row(r), step, full=full)
        for r in (0, 1)
        for step in pattern.row(r).steps
    ]
    assert words.splitlines() == told
