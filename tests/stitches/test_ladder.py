"""Ladder stitch against tables written by hand, its formula, a graph library and its gauge."""

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from one_hole import a_seed_design, graph_of, proof_of, spoilt, table, woven

from tracker.path.words import step_sentence
from tracker.pattern.compiler import compile_design, prove_pattern
from tracker.stitches import find_stitch

NAME = "ladder stitch"

ONE_HIGH = """\
1 up: +0^
2 down: +1v 0^ 1v
3 up: +2^ 1v 2^
4 down: +3v 2^ 3v
"""
TWO_HIGH = """\
1 up: +0^ +1^
2 down: +2v +3v 0^ 1^ 2v 3v
3 up: +4^ +5^ 2v 3v 4^ 5^
"""
"""Written by hand after the trade's way of telling it: pick up the beads of two rungs, go through
the first again and through the second; for each more pick it up, go through the one before the way
it was strung, and through the new one again (common practice, from memory)."""


@pytest.mark.parametrize(("lanes", "rows", "by_hand"), [(1, 4, ONE_HIGH), (2, 3, TWO_HIGH)])
def test_pass_by_pass(lanes: int, rows: int, by_hand: str) -> None:
    """One high and two high are woven as the tables say, hole by hole."""
    assert by_hand.splitlines() == list(table(woven(a_seed_design(NAME, lanes, rows))))


@given(lanes=st.integers(1, 6), rows=st.integers(2, 30))
@settings(max_examples=40, deadline=None)
def test_every_size_is_proved(lanes: int, rows: int) -> None:
    """Any height and length proves, again from its file, and has lanes x rows seeds."""
    done = compile_design(a_seed_design(NAME, lanes, rows))
    assert () == done.proof.faults == prove_pattern(done.pattern).faults
    assert lanes * rows == done.pattern.totals.total()


@given(lanes=st.integers(1, 6), rows=st.integers(2, 12))
@settings(max_examples=20, deadline=None)
def test_hangs_together(lanes: int, rows: int) -> None:
    """networkx: planar; one high it is a path, else a strip that no bead holds alone."""
    graph = graph_of(woven(a_seed_design(NAME, lanes, rows)))
    assert nx.check_planarity(graph)[0]
    if lanes == 1:
        assert nx.is_isomorphic(nx.path_graph(rows), graph)
    else:
        assert nx.is_biconnected(graph)
        assert rows * (lanes - 1) + 2 * (rows - 1) == graph.number_of_edges()


@pytest.mark.parametrize("lanes", [1, 2, 3])
def test_every_slip_is_noticed(lanes: int) -> None:
    """No single slip of the needle in a small ladder passes the proof."""
    design = a_seed_design(NAME, lanes, 4)
    good = woven(design)
    assert () == proof_of(design, good).faults
    assert [] == [what for what, path in spoilt(good) if not proof_of(design, path).faults]


@pytest.mark.parametrize(
    ("seed", "rungs_an_inch", "beads_an_inch"), [("cylinder 11/0", 16, 20), ("11/0", 12, 18)]
)
def test_gauge(seed: str, rungs_an_inch: float, beads_an_inch: float) -> None:
    """Rungs to the inch along, beads to the inch across, within 10 % of what the trade counts.

    Common practice, from memory: cylinder 11/0 about 16 by 20, round 11/0 about 12 by 18.
    """
    gauge = find_stitch(NAME).gauge(a_seed_design(NAME, 6, 10, seed=seed))
    assert rungs_an_inch == pytest.approx(25.4 / gauge.pitch, rel=0.1)
    assert beads_an_inch == pytest.approx(25.4 / (gauge.width / 6), rel=0.1)


def test_words() -> None:
    """Every kind of step, in full and in short."""
    pattern = compile_design(a_seed_design(NAME, 2, 3)).pattern
    again = (
        "; go through the 2 seeds of the rung before, the same way as before; "
        "go through the 2 seeds you just added"
    )
    for full, due in (
        (
            True,
            [
                "pick up 1 lagoon seed and 1 sand seed",
                f"pick up 1 sand seed and 1 lagoon seed{again}",
                f"pick up 1 lagoon seed and 1 sand seed{again}",
            ],
        ),
        (
            False,
            [
                "1 lagoon seed, 1 sand seed",
                "1 sand seed, 1 lagoon seed; rung before; the new ones",
                "1 lagoon seed, 1 sand seed; rung before; the new ones",
            ],
        ),
    ):
        rows = pattern.path().rows
        assert due == [step_sentence(pattern, r, r.steps[0], full=full) for r in rows]
