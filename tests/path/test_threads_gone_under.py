"""Threads gone under: where they lie, how far off they may be, and what they hold in the plane."""

from dataclasses import replace

import hypothesis.strategies as st
import networkx as nx
import pytest
from hypothesis import given, settings
from one_hole import a_seed_design, graph_of, proof_of, with_threads_gone_under, woven

from tracker.beads.catalogue import seeds
from tracker.path.laid import Threads, away_from, middle_of
from tracker.path.model import Bead, Pass, Place, Row, Step, ThreadPath, Under
from tracker.path.proof.expected import Expected
from tracker.path.proof.hang import hang_together
from tracker.path.proof.threads import under_threads
from tracker.path.proof.trace import Trace

SHAPES = {"15/0": seeds()["15/0"]}


def due(under: int) -> Expected:
    """That so many threads are gone under; of the rest nothing is asked here."""
    return Expected(tiles=0, seeds=0, passes=b"", longest_span=0.0, under=under)


@st.composite
def walks(draw: st.DrawFn) -> ThreadPath:
    """A thread through small seeds anywhere, that at times goes under one of its own spans."""
    at = st.tuples(st.integers(-9, 9), st.integers(-9, 9))
    points = draw(st.lists(at, min_size=4, max_size=9, unique=True))
    beads = tuple(
        Bead(i, "seed", "15/0", "S", Place(3.0 * x, 3.1 * y, 0.0))
        for i, (x, y) in enumerate(points)
    )
    passes = [Pass(0, "", up=True, picked_up=True)]
    under: list[Under] = []
    laid: list[tuple[int, int]] = []
    there = 1
    for _ in range(draw(st.integers(len(points), 2 * len(points)))):
        new = there < len(points) and draw(st.booleans())
        bead = there if new else draw(st.integers(0, there - 1))
        if laid and draw(st.booleans()):
            held = draw(st.sampled_from(laid))
            under.append(Under(len(passes), held))
            laid += [(end, b) for end in {passes[-1].bead, bead} for b in held if b != end]
        elif bead == passes[-1].bead:
            continue
        else:
            laid.append((passes[-1].bead, bead))
        passes.append(Pass(bead, "", up=draw(st.booleans()), picked_up=new))
        there += new
    row = Row(1, "rows", "up", 0.0, beads[:there], (Step(tuple(passes), under=tuple(under)),))
    return ThreadPath(SHAPES, (row,))


@given(path=walks())
@settings(max_examples=200, deadline=None)
def test_nothing_that_crosses_is_let_pass(path: ThreadPath) -> None:
    """Whatever hangs on whatever: what lies flat is planar to networkx, and so are its hinges.

    The drawing is a certificate: it may refuse what could be drawn otherwise, never the reverse.
    """
    trace = Trace.of(path)
    lines, missing = under_threads(trace, due(len(trace.under)))
    assert [] == missing
    found = [fault.what for fault in hang_together(trace, frozenset(), lines)]
    if any("crosses" in what for what in found):
        return
    graph = with_threads_gone_under(path)
    assert nx.check_planarity(graph)[0]
    beads = sorted(p for p in nx.articulation_points(graph) if isinstance(p, int))
    falling = "without bead {} (seed in S) alone a part of the work falls off"
    assert [falling.format(bead) for bead in beads] == found


def test_a_seed_on_a_thread_hangs_by_both_its_ends() -> None:
    """Seed 2 hangs under the thread of 0 and 1: without one of them it still hangs on the other."""
    beads = tuple(
        Bead(i, "seed", "15/0", "S", Place(x, y, 0.0))
        for i, (x, y) in enumerate([(0.0, 0.0), (4.0, 0.0), (2.0, 4.0), (9.0, 9.0)])
    )
    passes = [Pass(b, "", up=True, picked_up=new) for b, new in ((0, 1), (1, 1), (2, 1), (3, 1))]
    good = Step(tuple(passes), under=(Under(2, (1, 0)),))
    path = ThreadPath(SHAPES, (Row(1, "rows", "up", 0.0, beads, (good,)),))
    trace = Trace.of(path)
    lines, _ = under_threads(trace, due(1))
    assert ["without bead 2 (seed in S) alone a part of the work falls off"] == [
        fault.what for fault in hang_together(trace, frozenset(), lines)
    ]
    elsewhere = good._replace(under=(Under(2, (0, 3)),))
    trace = Trace.of(replace(path, rows=(replace(path.rows[0], steps=(elsewhere,)),)))
    assert ["there is no thread from bead 0 (seed in S) to bead 3 (seed in S)"] == [
        fault.what for fault in under_threads(trace, due(1))[1]
    ]


def test_a_thread_that_hangs_can_be_gone_under_in_turn() -> None:
    """What has gone under the thread of two beads lies between itself and each of them."""
    threads, here = Threads(), (0.0, 0.0)
    threads.lay(7, (2.0, 0.0), 3, (0.0, 0.0))
    line = ((0.0, 0.0), (2.0, 0.0))
    assert line == threads.nearest(7, 3, here) == threads.nearest(3, 7, here)
    threads.hang(9, (4.0, 0.0), (7, 3), line)
    assert ((2.0, 0.0), (4.0, 0.0)) == threads.nearest(7, 9, here)
    assert ((0.0, 0.0), (4.0, 0.0)) == threads.nearest(3, 9, here)
    assert threads.nearest(7, 8, here) is None


def test_the_nearest_thread_counts() -> None:
    """Of several threads between two beads it is the one that the needle is at."""
    threads = Threads()
    threads.lay(0, (0.0, 0.0), 1, (1.0, 0.0))
    threads.lay(1, (5.0, 5.0), 0, (6.0, 6.0))
    assert ((0.0, 0.0), (1.0, 0.0)) == threads.nearest(1, 0, (2.0, 2.0))
    assert ((6.0, 6.0), (5.0, 5.0)) == threads.nearest(1, 0, (4.0, 4.0))


def test_a_thread_over_the_seam_of_a_tube_is_short() -> None:
    """From y = 11 to y = 1 of a girth of 12 it is 2 mm, and its middle lies on the seam.

    A needle that has been round the tube twice more finds it beside itself.
    """
    threads = Threads(12.0)
    threads.lay(0, (0.0, 11.0), 1, (0.0, 1.0))
    line = threads.nearest(0, 1, (0.0, 10.0))
    assert ((0.0, 11.0), (0.0, 13.0)) == line
    assert line is not None
    assert (0.0, 12.0) == middle_of(line)
    assert ((0.0, 35.0), (0.0, 37.0)) == threads.nearest(0, 1, (0.0, 34.0))


@pytest.mark.parametrize(
    ("point", "away"), [((1.0, 3.0), 3.0), ((-4.0, 3.0), 5.0), ((5.0, -4.0), 5.0), ((2.0, 0.0), 0)]
)
def test_how_far_a_thread_is(point: tuple[float, float], away: float) -> None:
    """To its nearest part: square to it, or to the end of it (3-4-5 triangles)."""
    assert away == pytest.approx(away_from(((0.0, 0.0), (2.0, 0.0)), point))


def test_a_thread_out_of_reach() -> None:
    """Rule 3 tells it where the needle goes under a thread that lies further on."""
    design = a_seed_design("flat peyote", 5, 12)
    good = woven(design)
    step = good.rows[11].steps[-1]
    assert ((22, 27),) == tuple(beads for _, beads in step.under)
    far = step._replace(under=(Under(1, (17, 12)),))
    row = replace(good.rows[11], steps=(*good.rows[11].steps[:-1], far))
    found = proof_of(design, replace(good, rows=(*good.rows[:11], row))).faults
    assert [(3, 12, 3)] == [(f.rule, f.row, f.step) for f in found][:1]


def test_joined_to_both_they_need_not_lie_flat() -> None:
    """Why a thread gone under has a point of its own: lines to both its beads would cross.

    A chain of seeds, each on the thread of the last, can be laid flat as thread; with the seed
    joined to both beads instead, networkx finds that it cannot.
    """
    path = woven(a_seed_design("flat peyote", 5, 6))
    assert nx.check_planarity(with_threads_gone_under(path))[0]
    assert not nx.check_planarity(graph_of(path))[0]
