"""Two-hole ladder against tables written by hand, its formula, a graph library and its gauge."""

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from one_hole import graph_of, proof_of, spoilt, table, woven
from tiled import a_tile_design

from tracker.path.words import step_sentence
from tracker.pattern.compiler import compile_design, prove_pattern
from tracker.stitches import find_stitch

NAME = "two-hole ladder"
TILES = ("half tile", "quarter tile", "full tile", "two-hole oval")

ONE_HIGH = """\
1 up: +0a^
1 up: 0bv
2 up: +1a^ 0bv 1a^
2 up: 1bv
3 up: +2a^ 1bv 2a^
3 up: 2bv
"""
TWO_HIGH = """\
1 up: +0a^ +1a^
1 up: 1bv 0bv
2 up: +2a^ +3a^ 1bv 0bv 2a^ 3a^
2 up: 3bv 2bv
"""
"""Written by hand after the trade's way of telling it: pick up a tile by one hole, circle through
the near hole of the one before and the new one's again, and go on through its other hole (common
practice, from memory)."""


@pytest.mark.parametrize(("lanes", "rows", "by_hand"), [(1, 3, ONE_HIGH), (2, 2, TWO_HIGH)])
def test_pass_by_pass(lanes: int, rows: int, by_hand: str) -> None:
    """One high and two high are woven as the tables say, hole by hole."""
    assert by_hand.splitlines() == list(table(woven(a_tile_design(NAME, lanes, rows))))


@given(lanes=st.integers(1, 6), rows=st.integers(2, 20), tile=st.sampled_from(TILES))
@settings(max_examples=40, deadline=None)
def test_every_size_is_proved(lanes: int, rows: int, tile: str) -> None:
    """Any height, length and tile proves, again from its file, and has lanes x rows tiles."""
    done = compile_design(a_tile_design(NAME, lanes, rows, tile=tile))
    assert () == done.proof.faults == prove_pattern(done.pattern).faults
    assert lanes * rows == done.pattern.totals.total()
    assert {"t"} == {key[0] for key in done.pattern.totals}


@given(lanes=st.integers(1, 6), rows=st.integers(2, 12))
@settings(max_examples=20, deadline=None)
def test_hangs_together(lanes: int, rows: int) -> None:
    """networkx: planar; one high it is a path, else a strip that no tile holds alone."""
    graph = graph_of(woven(a_tile_design(NAME, lanes, rows)))
    assert nx.check_planarity(graph)[0]
    if lanes == 1:
        assert nx.is_isomorphic(nx.path_graph(rows), graph)
    else:
        assert nx.is_biconnected(graph)


@pytest.mark.parametrize(("lanes", "tile"), [(1, "half tile"), (2, "half tile"), (1, "full tile")])
def test_every_slip_is_noticed(lanes: int, tile: str) -> None:
    """No single slip of the needle in a small ladder passes the proof."""
    design = a_tile_design(NAME, lanes, 4, tile=tile)
    good = woven(design)
    assert () == proof_of(design, good).faults
    assert [] == [what for what, path in spoilt(good) if not proof_of(design, path).faults]


def test_gauge() -> None:
    """Five half tiles of 5.0 by 2.3 mm, as tubes say, make 25 mm, a band two high is 4.6 wide."""
    gauge = find_stitch(NAME).gauge(a_tile_design(NAME, 2, 5))
    assert (25.0, 4.6) == pytest.approx((gauge.length(5), gauge.width))


def test_words() -> None:
    """Every kind of step, in full and in short, one high and two high."""
    one, two = (compile_design(a_tile_design(NAME, lanes, 2)).pattern for lanes in (1, 2))
    said = [
        step_sentence(pattern, row, step, full=full)
        for pattern in (one, two)
        for full in (True, False)
        for row in pattern.path().rows
        for step in row.steps
    ]
    assert (
        """\
pick up 1 lagoon tile
go through the other hole of the lagoon tile, the other way
pick up 1 lagoon tile; go through the near hole of the lagoon tile before, the same way as before; \
go through the lagoon tile you just added, by the same hole
go through the other hole of the lagoon tile, the other way
1 lagoon tile
other hole
1 lagoon tile; near hole before; the new by the same hole
other hole
pick up 1 lagoon tile and 1 sand tile
go through the other holes of the 2 tiles, the other way
pick up 1 lagoon tile and 1 sand tile; go through the near holes of the 2 tiles of the rung \
before, the same way as before; go through the 2 tiles you just added, by the same holes
go through the other holes of the 2 tiles, the other way
1 lagoon tile, 1 sand tile
other holes
1 lagoon tile, 1 sand tile; near holes before; the new by the same holes
other holes
""".splitlines()
        == said
    )
