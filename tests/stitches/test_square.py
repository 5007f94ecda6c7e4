"""Square stitch against a table written out by hand, its formula, a graph library and its gauge."""

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from one_hole import a_seed_design, graph_of, proof_of, spoilt, table, woven

from tracker.pattern.compiler import compile_design, prove_pattern
from tracker.stitches import find_stitch

NAME = "square stitch"

THREE_BY_THREE = """\
1 up: +0^
1 up: +1^
1 up: +2^ turn
2 down: +3v 2^ 3v !1
2 down: +4v 1^ 4v !0
2 down: +5v 0^ 5v turn
3 up: +6^ 5v 6^ !4
3 up: +7^ 4v 7^ !3
3 up: +8^ 3v 8^ turn
"""
"""Written by hand after the trade's way of telling it: string three; pick one up, back through the
one below it, on through the new one; and so on, to and fro."""


def test_pass_by_pass() -> None:
    """Three lanes by three rows are woven as the table says, hole by hole."""
    assert THREE_BY_THREE.splitlines() == list(table(woven(a_seed_design(NAME, 3, 3))))


@given(lanes=st.integers(2, 14), rows=st.integers(2, 12))
@settings(max_examples=40, deadline=None)
def test_every_size_is_proved(lanes: int, rows: int) -> None:
    """Any width and length proves, again from its file, and has lanes x rows seeds."""
    done = compile_design(a_seed_design(NAME, lanes, rows))
    assert () == done.proof.faults == prove_pattern(done.pattern).faults
    assert lanes * rows == done.pattern.totals.total()


@given(lanes=st.integers(2, 9), rows=st.integers(2, 9))
@settings(max_examples=20, deadline=None)
def test_hangs_together(lanes: int, rows: int) -> None:
    """networkx: one piece, planar, and no bead alone holds a part; it is the grid graph."""
    graph = graph_of(woven(a_seed_design(NAME, lanes, rows)))
    assert nx.check_planarity(graph)[0]
    assert nx.is_biconnected(graph)
    # The needle goes across in every row and beside in every lane: all lines of a grid.
    assert nx.is_isomorphic(nx.grid_2d_graph(rows, lanes), graph)


def test_every_slip_is_noticed() -> None:
    """No single slip of the needle in a small band passes the proof."""
    design = a_seed_design(NAME, 3, 4)
    good = woven(design)
    assert () == proof_of(design, good).faults
    assert [] == [what for what, path in spoilt(good) if not proof_of(design, path).faults]


@pytest.mark.parametrize(
    ("seed", "lanes_an_inch", "rows_an_inch"), [("cylinder 11/0", 20, 16), ("11/0", 18, 12)]
)
def test_gauge(seed: str, lanes_an_inch: float, rows_an_inch: float) -> None:
    """Beads to the inch across and along, within 10 % of what the trade counts.

    Common practice, from memory: cylinder 11/0 about 20 by 16, round 11/0 about 18 by 12.
    """
    gauge = find_stitch(NAME).gauge(a_seed_design(NAME, 10, 10, seed=seed))
    assert lanes_an_inch == pytest.approx(25.4 / (gauge.width / 10), rel=0.1)
    assert rows_an_inch == pytest.approx(25.4 / gauge.pitch, rel=0.1)


def test_the_neighbour_is_passed_by() -> None:
    """The usual slip, going through the next bead of the row before: each step marks that bead."""
    path = woven(a_seed_design(NAME, 4, 3))
    marked = [step.pass_by for row in path.rows[1:] for step in row.steps]
    assert [(2,), (1,), (0,), (), (6,), (5,), (4,), ()] == marked
