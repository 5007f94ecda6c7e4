"""Two-hole brick against a table written by hand, its formula, a graph library and its gauge."""

from dataclasses import replace
from itertools import pairwise
from math import hypot

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from one_hole import graph_of, proof_of, spoilt, table, woven
from tiled import a_tile_design

from tracker.beads.catalogue import tiles
from tracker.path.plane import Mouths
from tracker.path.words import step_sentence
from tracker.pattern.compiler import compile_design, prove_pattern
from tracker.stitches import find_stitch

NAME = "two-hole brick"
TILES = ("half tile", "quarter tile", "full tile", "two-hole oval")

THREE_BY_THREE = """\
1 up: +0a^ 0bv
1 up: +1a^ 0bv 1a^ 1bv
1 up: +2a^ 1bv 2a^ 2bv
2 down: +3av 3b^ 3av
2 down: +4av 2a^ 1bv 4b^
2 down: +5av 1a^ 0bv 5b^
3 up: +6a^ 6bv 6a^
3 up: +7a^ 5av 4b^ 7bv
3 up: +8a^ 4av 3av 8bv
"""
"""Written by hand after the trade's way of telling it: a ladder; then a tile over the edge, round
through its outer hole and its inner one again; then a tile over each joint, down through its near
hole and the one below, up through the next hole and the tile's other (common practice, from
memory). In odd rows hole a of a tile over a joint is its lower one, so it lies turned round: up
through it is back in the work."""


def test_pass_by_pass() -> None:
    """Three lanes by three rows are woven as the table says, hole by hole."""
    assert THREE_BY_THREE.splitlines() == list(table(woven(a_tile_design(NAME, 3, 3))))


@given(lanes=st.integers(2, 9), rows=st.integers(2, 12), tile=st.sampled_from(TILES))
@settings(max_examples=40, deadline=None)
def test_every_size_is_proved(lanes: int, rows: int, tile: str) -> None:
    """Any width, length and tile proves, again from its file, and has lanes x rows tiles."""
    done = compile_design(a_tile_design(NAME, lanes, rows, tile=tile))
    assert () == done.proof.faults == prove_pattern(done.pattern).faults
    assert lanes * rows == done.pattern.totals.total()
    assert {"t"} == {key[0] for key in done.pattern.totals}


@given(lanes=st.integers(2, 8), rows=st.integers(2, 8))
@settings(max_examples=20, deadline=None)
def test_hangs_together(lanes: int, rows: int) -> None:
    """networkx: planar, no tile holds a part alone, every tile over a joint is joined to both."""
    path = woven(a_tile_design(NAME, lanes, rows))
    graph = graph_of(path)
    assert nx.check_planarity(graph)[0]
    assert nx.is_biconnected(graph)
    places = {bead.id: bead.place for row in path.rows for bead in row.beads}
    length = tiles()["half tile"].length
    for row, after in pairwise(path.rows):
        for bead in after.beads[1:]:
            below = [b for b in row.beads if abs(b.place.y - bead.place.y) < length]
            assert 2 == len(below)
            assert all(graph.has_edge(bead.id, b.id) for b in below)
            middle = sum(places[b.id].y for b in below) / 2
            assert middle == pytest.approx(bead.place.y)


@given(lanes=st.integers(2, 6), rows=st.integers(2, 6), tile=st.sampled_from(TILES))
@settings(max_examples=20, deadline=None)
def test_bare_thread_is_short(lanes: int, rows: int, tile: str) -> None:
    """Nowhere more bare thread than from hole to hole of a tile, or of two side by side."""
    path = woven(a_tile_design(NAME, lanes, rows, tile=tile))
    mouths = Mouths(path.shapes)
    beads = {bead.id: bead for row in path.rows for bead in row.beads}
    ends = [
        mouths.ends(beads[p.bead], p.hole, p.up)
        for row in path.rows
        for step in row.steps
        for p in step.passes
    ]
    spans = [hypot(x - before[2], y - before[3]) for before, (x, y, _, _) in pairwise(ends)]
    measures = tiles()[tile]
    spacing = measures.hole_spacing
    assert max(spans) == pytest.approx(max(spacing, measures.length - spacing))


@pytest.mark.parametrize("tile", TILES)
@pytest.mark.parametrize("lanes", [2, 3])
def test_every_slip_is_noticed(lanes: int, tile: str) -> None:
    """No single slip of the needle in a small band passes the proof."""
    design = a_tile_design(NAME, lanes, 4, tile=tile)
    good = woven(design)
    assert () == proof_of(design, good).faults
    assert [] == [what for what, path in spoilt(good) if not proof_of(design, path).faults]


def test_gauge() -> None:
    """Half tiles are 5.0 by 2.3 mm, as tubes say: ten rows make 23 mm, 3 1/2 across 17.5 mm."""
    gauge = find_stitch(NAME).gauge(a_tile_design(NAME, 3, 10))
    assert (23.0, 17.5) == pytest.approx((gauge.length(10), gauge.width))


def test_holes_that_do_not_meet() -> None:
    """Half the length from hole to hole is what meets best; far from that a swatch is advised."""
    stitch = find_stitch(NAME)
    for spacing, off in ((2.5, 0.0), (3.0, 0.5), (1.2, 1.3), (4.0, 1.5)):
        design = a_tile_design(NAME, 3, 4)
        tile = design.own_tile
        said = stitch.unsuited(replace(design, tile=replace(tile, hole_spacing=spacing)))
        due = f"the holes of {tile.name} beads lie {off:.1f} mm beside those of the next row"
        assert (due if off > 1 else "") == said


def test_words() -> None:
    """Every kind of step, in full and in short."""
    pattern = compile_design(a_tile_design(NAME, 2, 2)).pattern
    said = [
        step_sentence(pattern, row, step, full=full)
        for full in (True, False)
        for row in pattern.path().rows
        for step in row.steps
    ]
    assert (
        """\
pick up 1 lagoon tile; go through the other hole of the lagoon tile you just added
pick up 1 sand tile; go through the near hole of the lagoon tile before, the same way as before; \
go through the first hole of the sand tile again; go through the other hole of the sand tile you \
just added
pick up 1 sand tile; go through the other hole of the sand tile you just added; go through the \
first hole of the sand tile again
pick up 1 lagoon tile; go through the hole below, of the sand tile; go through the next hole, of \
the lagoon tile; go through the other hole of the lagoon tile you just added
1 lagoon tile; other hole
1 sand tile; near hole before; first hole again; other hole
1 sand tile; other hole; first hole again
1 lagoon tile; hole below; next hole; other hole
""".splitlines()
        == said
    )
