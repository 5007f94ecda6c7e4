"""Right-angle weave against tables written by hand, formulas, a graph library and geometry."""

from collections import Counter
from itertools import combinations, pairwise

import networkx as nx
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from one_hole import a_seed_design, graph_of, proof_of, spoilt, table, woven

from tracker.beads.catalogue import seeds
from tracker.beads.model import Seed
from tracker.design.model import Layout
from tracker.path.model import Bead, ThreadPath
from tracker.path.words import step_sentence
from tracker.pattern.compiler import compile_design, prove_pattern
from tracker.pattern.reader import parse_pattern
from tracker.stitches import find_stitch

NAME = "right-angle weave"

TWO_LANES = """\
1 up: +0v +1v +2^ +3^ 0v
1 up: +4^ +5^ +6v 0v !3
1 up: 4^ 5^ 6v turn
2 down: +7^ +8^ +9v 6v 7^ !5
2 down: +10v +11v 3^ 7^ !2
2 down: 10v turn
3 up: +12^ +13^ +14v 10v 12^ 13^ 14v !7
3 up: 8^ +15^ +16v 14v !7
3 up: 8^ 15^ 16v turn
"""
"""An even number of lanes. Units of row 1: 0 1 2 3 anticlockwise from the side that the next one
shares, then 0 4 5 6 clockwise; on through 4 and 5 to 6. Row 2: 6 7 8 9, on to 7; 7 10 11 3, on to
10. Row 3: 10 12 13 14, on to 14; 14 8 15 16, on through 8 and 15 to 16."""

THREE_LANES = """\
1 up: +0v +1v +2^ +3^ 0v
1 up: +4^ +5^ +6v 0v 4^ 5^ !3
1 up: +7^ +8v +9v 5^ !4
1 up: 7^ turn
2 down: +10^ +11v +12v 7^ 10^ 11v 12v !5
2 down: 6v +13^ +14^ 12v 6v 13^ !5
2 down: +15v +16v 3^ 13^ !2
2 down: 15v turn
3 up: +17^ +18^ +19v 15v 17^ 18^ 19v !13
3 up: 14^ +20^ +21v 19v 14^ 20^ !13
3 up: +22^ +23v 11v 20^ !10
3 up: 22^ turn
"""
"""An odd number, with a middle unit to and fro: row 2: 7 10 11 12, 12 6 13 14, 13 15 16 3; row 3:
15 17 18 19, 19 14 20 21, 20 22 23 11."""

ONE_LANE = """\
1 up: +0^ +1^ +2v +3v 0^
1 up: 1^ turn
2 down: +4^ +5v +6v 1^ !0
2 down: 4^ 5v turn
3 up: +7^ +8^ +9v 5v !4
3 up: 7^ 8^ turn
"""
"""A chain: each unit on the far side of the one before, that is on 1, then on 5."""


@pytest.mark.parametrize(("lanes", "by_hand"), [(1, ONE_LANE), (2, TWO_LANES), (3, THREE_LANES)])
def test_pass_by_pass(lanes: int, by_hand: str) -> None:
    """Three rows of one, two and three units are woven as the tables say."""
    assert by_hand.splitlines() == list(table(woven(a_seed_design(NAME, lanes, 3))))


@given(lanes=st.integers(1, 12), rows=st.integers(2, 12))
@settings(max_examples=40, deadline=None)
def test_every_size_is_proved(lanes: int, rows: int) -> None:
    """Any width and length proves, again from its file, and has all its seeds.

    A grid of squares has rows x (lanes + 1) + lanes x (rows + 1) sides.
    """
    done = compile_design(a_seed_design(NAME, lanes, rows))
    assert () == done.proof.faults == prove_pattern(parse_pattern(done.text)).faults
    assert rows * (lanes + 1) + lanes * (rows + 1) == done.pattern.totals.total()


def in_halves(path: ThreadPath, side: float) -> dict[int, tuple[int, int]]:
    """Where each seed lies, in halves of a unit's side along and across."""
    return {
        bead.id: (round(2 * bead.place.x / side), round(2 * bead.place.y / side))
        for row in path.rows
        for bead in row.beads
    }


@given(lanes=st.integers(1, 7), rows=st.integers(2, 7))
@settings(max_examples=30, deadline=None)
def test_hangs_together_in_rings(lanes: int, rows: int) -> None:
    """networkx: planar, and the ring of four round every unit, no more and no less.

    Only in a chain, one unit wide, does a seed hold a part alone: each that two units share.
    """
    design = a_seed_design(NAME, lanes, rows)
    stitch = find_stitch(NAME)
    path = woven(design)
    graph = nx.relabel_nodes(graph_of(path), in_halves(path, stitch.gauge(design).pitch))
    rings = nx.Graph()
    for row in range(rows):
        for lane in range(lanes):
            x, y = 2 * row + 1, 2 * lane + 1
            nx.add_cycle(rings, [(x, y - 1), (x + 1, y), (x, y + 1), (x - 1, y)])
    assert nx.utils.graphs_equal(rings, graph)
    assert nx.check_planarity(graph)[0]
    weak = {(2 * row, 1) for row in range(1, rows)} if lanes == 1 else set()
    assert weak == set(nx.articulation_points(graph))
    places = in_halves(path, stitch.gauge(design).pitch)
    assert weak == {places[b] for b in stitch.expected(stitch.band(design, rows)).hinges}


@given(lanes=st.integers(1, 7), rows=st.integers(2, 7))
@settings(max_examples=20, deadline=None)
def test_like_meshing_wheels(lanes: int, rows: int) -> None:
    """Every seed is gone through one way only, and every corner is turned, never crossed."""
    path = woven(a_seed_design(NAME, lanes, rows))
    tilt = {bead.id: bead.place.tilt for row in path.rows for bead in row.beads}
    passes = [p for row in path.rows for step in row.steps for p in step.passes]
    assert len(tilt) == len({(p.bead, p.up) for p in passes})
    assert all(tilt[a.bead] != tilt[b.bead] for a, b in pairwise(passes))


@given(lanes=st.integers(1, 7), rows=st.integers(2, 7))
@settings(max_examples=20, deadline=None)
def test_new_seeds_of_a_unit(lanes: int, rows: int) -> None:
    """Four in the first unit, three in the rest of its row and in every first unit, else two."""
    new = Counter(
        sum(p.picked_up for p in step.passes)
        for row in woven(a_seed_design(NAME, lanes, rows)).rows
        for step in row.steps
        if any(p.picked_up for p in step.passes)
    )
    due = Counter({4: 1, 3: lanes - 1 + rows - 1, 2: (lanes - 1) * (rows - 1)})
    assert +due == new


@pytest.mark.parametrize(("lanes", "rows"), [(1, 3), (2, 3), (3, 3)])
def test_every_slip_is_noticed(lanes: int, rows: int) -> None:
    """No single slip of the needle in a small band passes the proof."""
    design = a_seed_design(NAME, lanes, rows)
    good = woven(design)
    assert () == proof_of(design, good).faults
    assert [] == [what for what, path in spoilt(good) if not proof_of(design, path).faults]


def test_gauge() -> None:
    """Round 11/0 makes 8 to 9 units an inch (common practice, from memory), in a wide range."""
    gauge = find_stitch(NAME).gauge(a_seed_design(NAME, 6, 10))
    assert 8 <= 25.4 / gauge.pitch <= 9
    assert 0.15 <= gauge.pitch_spread <= 0.2
    # Six units and, at either edge, half a seed.
    assert 6 * gauge.pitch + 2.1 == pytest.approx(gauge.width)
    assert 10 * gauge.pitch + 2.1 == pytest.approx(gauge.length(10))


def outline(bead: Bead, seed: Seed) -> shapely.Polygon:
    """A seed seen from above; its edges are rounded by half of its glass's thickness."""
    rounding = (seed.diameter - seed.hole) / 4
    along, across = seed.length / 2 - rounding, seed.diameter / 2 - rounding
    core = shapely.box(-across, -along, across, along).buffer(rounding)
    turned = shapely.affinity.rotate(core, bead.place.tilt, origin=(0, 0))
    return shapely.affinity.translate(turned, bead.place.x, bead.place.y)


@pytest.mark.parametrize("seed", seeds().values(), ids=lambda seed: seed.name)
def test_seeds_lie_clear_of_each_other(seed: Seed) -> None:
    """Neighbours overlap by no more than 2 % of a seed: makers differ by more (about 5 %)."""
    path = woven(a_seed_design(NAME, 2, 2, seed=seed.name))
    drawn = [outline(bead, seed) for row in path.rows for bead in row.beads]
    shared = [a.intersection(b).area / a.area for a, b in combinations(drawn, 2)]
    assert max(shared) < 0.02


def test_colours_by_unit() -> None:
    """The seeds that a unit adds have the colour of its row and lane; shared ones keep theirs."""
    layout = Layout(seeds="", kind="chart", lines=("AB", "SA"))
    rows = woven(a_seed_design(NAME, 2, 3, layout=layout)).rows
    assert ["AAAABBB", "AAASS", "AAABB"] == ["".join(b.colour for b in row.beads) for row in rows]


def test_passed_by() -> None:
    """At the corner towards finished work each unit marks the seed straight over the crossing."""
    rows = woven(a_seed_design(NAME, 3, 3)).rows
    marked = [[step.pass_by for step in row.steps] for row in rows]
    assert [[(), (3,), (4,), ()], [(5,), (5,), (2,), ()], [(13,), (13,), (10,), ()]] == marked


WORDS = """\
pick up 4 lagoon seeds; go through the lagoon seed you picked up first, again
pick up 3 sand seeds; pass by the lagoon seed straight ahead; \
go through the lagoon seed that the thread came from; go through the next 2 seeds, \
the same way round
pick up 3 smoke seeds; pass by the sand seed straight ahead; \
go through the sand seed that the thread came from
turn: go through the next seed, the same way round
pick up 3 smoke seeds; pass by the sand seed straight ahead; \
go through the smoke seed that the thread came from; go through the next 3 seeds, \
the same way round
pass by the sand seed straight ahead; go through the sand seed of the row before; \
pick up 2 sand seeds; go through the smoke seed that the thread came from; \
go through the next 2 seeds, the same way round
pick up 2 lagoon seeds; pass by the lagoon seed straight ahead; \
go through the lagoon seed of the row before; go through the sand seed that the thread came from
turn: go through the next seed, the same way round
"""

SHORT_WORDS = """\
4 lagoon seeds; the first again
3 sand seeds; past lagoon seed ahead; close; on by 2
3 smoke seeds; past sand seed ahead; close
turn: on by 1
3 smoke seeds; past sand seed ahead; close; on by 3
past sand seed ahead; sand seed of the row before; 2 sand seeds; close; on by 2
2 lagoon seeds; past lagoon seed ahead; lagoon seed of the row before; close
turn: on by 1
"""


@pytest.mark.parametrize(("full", "words"), [(True, WORDS), (False, SHORT_WORDS)])
def test_words(*, full: bool, words: str) -> None:
    """Every kind of step is told as a teacher would, in the order in which it is done."""
    layout = Layout(seeds="", kind="lanes", lines=("ABS",))
    pattern = compile_design(a_seed_design(NAME, 3, 2, layout=layout)).pattern
    told = [
        step_sentence(pattern, pattern.row(r), step, full=full)
        for r in (0, 1)
        for step in pattern.row(r).steps
    ]
    assert words.splitlines() == told
