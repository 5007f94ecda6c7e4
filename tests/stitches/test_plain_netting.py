"""Plain netting against tables written by hand, its formula, a graph library and geometry."""

from collections import Counter
from itertools import combinations

import networkx as nx
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from one_hole import a_seed_design, graph_of, proof_of, spoilt, table, woven

from tracker.beads.catalogue import seeds
from tracker.beads.model import Seed
from tracker.design.model import Design, Layout
from tracker.path.model import Bead
from tracker.path.words import step_sentence
from tracker.pattern.compiler import compile_design, prove_pattern
from tracker.pattern.reader import parse_pattern
from tracker.stitches import find_stitch

NAME = "plain netting"

SIX_LANES = """\
1 up: +0^ +1^ +2^ +3^
1 up: +4^ +5^ +6^ +7^
1 up: +8^
2 down: +9v +10v +11v 4v !6 turn
2 down: +12v +13v +14v 0v !2
3 up: +15v +16^ +17^ +18^ +19^ 13^ !0 turn
3 up: +20^ +21^ +22^ 10^ !4
4 down: +23^ +24^ +25v +26v +27v 21v !10 turn
4 down: +28v +29v +30v 18v !13
"""
"""Two loops a row. String 9; bridges are every other one from the first, the ninth is the edge's.
Row 2: three, through the fourth from the end (4); three, through the first (0); the loops' middles
are 10 and 13. Row 3: five, whose second (16) lies at the edge, through the nearer middle (13);
three, through 10. Row 4: five, through 21, three, through 18, the middles of row 3."""

FOUR_LANES = """\
1 up: +0^ +1^ +2^ +3^
1 up: +4^
2 down: +5v +6v +7v 0v !2 turn
3 up: +8v +9^ +10^ +11^ +12^ 6^ !0 turn
4 down: +13^ +14^ +15v +16v +17v 11v !6 turn
5 up: +18v +19^ +20^ +21^ +22^ 16^ !11 turn
"""
"""The narrowest: a single loop a row, and a turn in each."""


def net(lanes: int, rows: int, *, layout: Layout | None = None, seed: str = "11/0") -> Design:
    """A net with its sides in a colour of their own."""
    stripes = Layout(seeds="S", kind="lanes", lines=(("AB" * lanes)[:lanes],))
    return a_seed_design(NAME, lanes, rows, layout=layout or stripes, seed=seed)


@pytest.mark.parametrize(("lanes", "rows", "by_hand"), [(6, 4, SIX_LANES), (4, 5, FOUR_LANES)])
def test_pass_by_pass(lanes: int, rows: int, by_hand: str) -> None:
    """Nets of two loops and of one are woven as the tables say."""
    assert by_hand.splitlines() == list(table(woven(net(lanes, rows))))


@given(loops=st.integers(1, 12), rows=st.integers(2, 12))
@settings(max_examples=40, deadline=None)
def test_every_size_is_proved(loops: int, rows: int) -> None:
    """Any width and length proves, again from its file, and has its seeds: 3 a loop, 2 a turn."""
    done = compile_design(net(2 * loops + 2, rows))
    assert () == done.proof.faults == prove_pattern(parse_pattern(done.text)).faults
    string, row_2, later = 4 * loops + 1, 3 * loops, 3 * loops + 2
    assert string + row_2 + (rows - 2) * later == done.pattern.totals.total()


@given(loops=st.integers(1, 8), rows=st.integers(2, 8))
@settings(max_examples=30, deadline=None)
def test_hangs_together(loops: int, rows: int) -> None:
    """networkx: one piece, planar; a bead alone holds a part only while there is row 2 alone.

    Each loop after the string closes one mesh more: that is all the meshes there are.
    """
    design = net(2 * loops + 2, rows)
    graph = graph_of(woven(design))
    assert nx.is_connected(graph)
    assert nx.check_planarity(graph)[0]
    weak = {4 * i for i in range(1, loops)} if rows == 2 else set()
    assert weak == set(nx.articulation_points(graph))
    stitch = find_stitch(NAME)
    assert weak == stitch.expected(stitch.band(design, rows)).hinges
    assert loops * (rows - 1) == len(nx.cycle_basis(graph))


@given(loops=st.integers(2, 8), rows=st.integers(3, 8))
@settings(max_examples=20, deadline=None)
def test_meshes(loops: int, rows: int) -> None:
    """networkx: 8 seeds round every mesh, those at the edges too."""
    graph = graph_of(woven(net(2 * loops + 2, rows)))
    found = Counter(map(len, nx.minimum_cycle_basis(graph)))
    assert Counter({8: loops * (rows - 1)}) == found


@pytest.mark.parametrize(("lanes", "rows"), [(4, 4), (6, 4)])
def test_every_slip_is_noticed(lanes: int, rows: int) -> None:
    """No single slip of the needle in a small band passes the proof."""
    design = net(lanes, rows)
    good = woven(design)
    assert () == proof_of(design, good).faults
    assert [] == [what for what, path in spoilt(good) if not proof_of(design, path).faults]


@pytest.mark.parametrize("seed", seeds().values(), ids=lambda seed: seed.name)
def test_gauge(seed: Seed) -> None:
    """A net pinned with square meshes (common practice, from memory) lies between its two ends.

    Pushed together the bridges of a lane touch, a diameter every two rows. Pulled, a side stands
    along the band between two bridges that stand across, as in a unit of right-angle weave, of
    which round 11/0 make 8 to 9 an inch (common practice, from memory), other sizes in proportion.
    """
    gauge = find_stitch(NAME).gauge(net(6, 10, seed=seed.name))
    shortest, longest = gauge.length_range(10)
    assert 10 * seed.diameter / 2 < shortest
    unit = 25.4 / 8 * (seed.length + seed.diameter) / (1.4 + 2.1)
    assert longest < seed.diameter + 0.5 + 10 * unit
    assert 0.15 <= gauge.pitch_spread <= 0.3
    drawn = shapely.union_all(outlines(net(6, 10, seed=seed.name)))
    _, low, _, high = drawn.bounds
    assert high - low == pytest.approx(gauge.width, abs=0.02)


def outlines(design: Design) -> list[shapely.Polygon]:
    """The seeds of a design, seen from above."""
    return [outline(bead, design.own_seed) for row in woven(design).rows for bead in row.beads]


def outline(bead: Bead, seed: Seed) -> shapely.Polygon:
    """A seed seen from above; its edges are rounded by half of its glass's thickness."""
    rounding = (seed.diameter - seed.hole) / 4
    along, across = seed.length / 2 - rounding, seed.diameter / 2 - rounding
    core = shapely.box(-across, -along, across, along).buffer(rounding)
    turned = shapely.affinity.rotate(core, bead.place.tilt, origin=(0, 0))
    return shapely.affinity.translate(turned, bead.place.x, bead.place.y)


@pytest.mark.parametrize("seed", seeds().values(), ids=lambda seed: seed.name)
def test_seeds_lie_clear_of_each_other(seed: Seed) -> None:
    """Neighbours overlap by no more than 3 % of a seed: makers differ by more (about 5 %)."""
    shared = [
        a.intersection(b).area / a.area
        for a, b in combinations(outlines(net(6, 5, seed=seed.name)), 2)
    ]
    assert max(shared) < 0.03


@pytest.mark.parametrize("seed", seeds())
def test_rows_of_a_kind_lie_alike(seed: str) -> None:
    """Up rows differ by their origin alone, and so do down rows."""
    rows = woven(net(8, 9, seed=seed)).rows
    lies = [
        [(round(b.place.x - row.origin, 2), *b.place[1:]) for b in row.beads] for row in rows[2:]
    ]
    assert [lies[0], lies[1]] * 3 == lies[:6]


def test_colours() -> None:
    """Bridges as the chart has them, an edge seed as its own row; sides in the seeds' colour."""
    layout = Layout(seeds="S", kind="chart", lines=("AAAB", "BBBA"))
    rows = woven(net(4, 4, layout=layout)).rows
    # Ranks of two rows of bridges: rows 1 and 2 are strung, 3 to 5 are woven.
    assert ["ASASB", "SBS", "SBSBS", "SASAS"] == ["".join(b.colour for b in r.beads) for r in rows]


def test_passed_by() -> None:
    """Every loop marks the full bridge below it, the turn's the one that the thread comes from."""
    rows = woven(net(6, 4)).rows
    marked = [[step.pass_by for step in row.steps] for row in rows]
    assert [[(), (), ()], [(6,), (2,)], [(0,), (4,)], [(10,), (13,)]] == marked


WORDS = """\
pick up 1 sand seed, 1 smoke seed, 1 lagoon seed and 1 smoke seed
pick up 1 sand seed, 1 smoke seed, 1 lagoon seed and 1 smoke seed
pick up 1 sand seed
turn: pick up 1 smoke seed, 1 lagoon seed and 1 smoke seed; \
pass by the lagoon seed that is second along the string; \
go through the sand seed that is fourth along it
pick up 1 smoke seed, 1 lagoon seed and 1 smoke seed; \
pass by the lagoon seed that is second along the string; \
go through the sand seed that is fourth along it
turn: pick up 1 smoke seed, 1 lagoon seed, 1 smoke seed, 1 sand seed and 1 smoke seed; \
pass by the sand seed that the thread comes from; \
go through the lagoon seed in the middle of the next loop
pick up 1 smoke seed, 1 sand seed and 1 smoke seed; pass by the sand seed below the new loop; \
go through the lagoon seed in the middle of the next loop
"""

SHORT_WORDS = """\
1 sand seed, 1 smoke seed, 1 lagoon seed, 1 smoke seed
1 sand seed, 1 smoke seed, 1 lagoon seed, 1 smoke seed
1 sand seed
turn: 1 smoke seed, 1 lagoon seed, 1 smoke seed; past second, lagoon seed; fourth, sand
1 smoke seed, 1 lagoon seed, 1 smoke seed; past second, lagoon seed; fourth, sand
turn: 1 smoke seed, 1 lagoon seed, 1 smoke seed, 1 sand seed, 1 smoke seed; \
past sand seed you came from; lagoon of the next loop
1 smoke seed, 1 sand seed, 1 smoke seed; past sand seed below; lagoon of the next loop
"""


@pytest.mark.parametrize(("full", "words"), [(True, WORDS), (False, SHORT_WORDS)])
def test_words(*, full: bool, words: str) -> None:
    """Every kind of step is told as a teacher would, in the order in which it is done."""
    pattern = compile_design(net(6, 3)).pattern
    told = [
        step_sentence(pattern, pattern.row(r), step, full=full)
        for r in range(3)
        for step in pattern.row(r).steps
    ]
    assert words.splitlines() == told


def test_hints() -> None:
    """Each kind of step has something that a learner should see."""
    hint = find_stitch(NAME).hint
    said = [hint(row, step, 6) for row, step in ((1, 1), (2, 1), (2, 2), (3, 1), (3, 2))]
    assert all(said)
    assert said[1] == said[2]
    assert 4 == len(set(said))
    assert "5 seeds" in said[3]
