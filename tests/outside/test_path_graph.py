"""The proof's rule 6 against networkx: one piece, in the plane, held by more than one bead."""

from itertools import pairwise

import networkx as nx  # type: ignore[import-untyped]  # it carries no types
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from weaving import passes_of, tile_of, woven

from tracker.beads.catalogue import seeds
from tracker.path.model import Bead, Pass, Place, Row, Step, ThreadPath
from tracker.path.proof.hang import hang_together
from tracker.path.proof.trace import Trace

CROSSING = "the thread crosses itself: the beads and spans do not lie flat in the plane"
K5 = [0, 1, 2, 3, 4, 0, 2, 4, 1, 3, 0]
K33 = [0, 3, 1, 4, 2, 5, 0, 4, 1, 5, 2, 3, 0, 4]
"""Every line of the two graphs that no plane holds, as a walk."""

points = st.tuples(st.integers(0, 40), st.integers(0, 40))


def graph_of(path: ThreadPath) -> nx.Graph:
    """Beads joined by the spans between consecutive passes."""
    beads = [p.bead for p in passes_of(path)]
    graph = nx.Graph()
    graph.add_nodes_from(beads)
    graph.add_edges_from((a, b) for a, b in pairwise(beads) if a != b)
    return graph


def walk_through(walk: list[int], lie: list[tuple[int, int]]) -> ThreadPath:
    """A thread through seeds that lie at `lie` (mm), in the order of `walk`."""
    order = list(dict.fromkeys(walk))
    number = {bead: i for i, bead in enumerate(order)}
    beads = tuple(
        Bead(number[bead], "seed", "15/0", "S", Place(lie[bead][0], lie[bead][1], 0.0))
        for bead in order
    )
    passes, there = [], set()
    for bead in walk:
        passes.append(Pass(number[bead], "", up=True, picked_up=bead not in there))
        there.add(bead)
    row = Row(1, "rows", "up", 0.0, beads, (Step(tuple(passes)),))
    return ThreadPath({"15/0": seeds()["15/0"]}, (row,))


def faults_of(path: ThreadPath, hinges: frozenset[int] = frozenset()) -> list[str]:
    """What rule 6 says of a path."""
    return [fault.what for fault in hang_together(Trace.of(path), hinges)]


@pytest.mark.parametrize("columns", range(2, 9))
def test_band_hangs_together_but_for_the_first_cap(columns: int) -> None:
    """A band is connected and planar, and row 1's tile at the first turn its only weak bead."""
    for rows in range(4, 21):
        path = woven(columns, rows)
        graph = graph_of(path)
        weak = {tile_of(path, 1, columns)}
        assert nx.is_connected(graph)
        assert nx.check_planarity(graph)[0]
        assert weak == set(nx.articulation_points(graph))
        assert [] == faults_of(path, frozenset(weak))
        assert 1 == len(faults_of(path))


def test_shortest_bands() -> None:
    """Bands of two and three rows have the weak beads that networkx finds in them."""
    for columns in range(2, 9):
        for rows in (2, 3):
            path = woven(columns, rows)
            weak = frozenset(nx.articulation_points(graph_of(path)))
            assert [] == faults_of(path, weak)
            assert len(weak) == len(faults_of(path))


@given(st.data(), st.integers(3, 9))
@settings(max_examples=300, deadline=None)
def test_any_thread_errs_only_on_the_side_of_refusing(data: st.DataObject, beads: int) -> None:
    """Whatever the thread: what is called flat is planar, with networkx's articulation points."""
    lie = data.draw(st.lists(points, min_size=beads, max_size=beads, unique=True))
    walk = data.draw(st.lists(st.integers(0, beads - 1), min_size=2, max_size=3 * beads))
    path = walk_through(walk, lie)
    graph = graph_of(path)
    if CROSSING in faults_of(path):
        return
    assert nx.check_planarity(graph)[0]
    weak = frozenset(nx.articulation_points(graph))
    assert [] == faults_of(path, weak)
    assert len(weak) == len(faults_of(path))


@given(st.lists(points, min_size=9, max_size=9, unique=True), st.data())
@settings(max_examples=100, deadline=None)
def test_tree_is_always_flat(lie: list[tuple[int, int]], data: st.DataObject) -> None:
    """A thread that goes out and back along a tree is never refused, wherever its beads lie."""
    walk = [0]
    for bead in range(1, 9):
        # Back to an earlier bead, the way the thread came, then out to a new one.
        home = data.draw(st.integers(0, bead - 1))
        tree = nx.Graph(list(pairwise(walk)))
        tree.add_node(0)
        walk += [*nx.shortest_path(tree, walk[-1], home)[1:], bead]
    assert CROSSING not in faults_of(walk_through(walk, lie))


@pytest.mark.parametrize("walk", [K5, K33])
def test_walks_are_the_two_graphs(walk: list[int]) -> None:
    """The two threads below are the graphs that no plane holds, as networkx knows them."""
    graph = graph_of(walk_through(walk, [(i, i * i) for i in range(6)]))
    known = nx.complete_graph(5) if walk == K5 else nx.complete_bipartite_graph(3, 3)
    assert nx.is_isomorphic(known, graph)
    assert not nx.check_planarity(graph)[0]


@pytest.mark.parametrize("walk", [K5, K33])
@given(lie=st.lists(points, min_size=6, max_size=6, unique=True))
@settings(max_examples=60, deadline=None)
def test_tangles_are_refused(walk: list[int], lie: list[tuple[int, int]]) -> None:
    """A thread that joins beads like K5 or K3,3 is refused wherever its beads lie."""
    assert CROSSING in faults_of(walk_through(walk, lie))
