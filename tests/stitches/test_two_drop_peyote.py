"""Two-drop peyote against a table written out by hand, its formula and a graph library."""

from collections import Counter

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from one_hole import (
    a_seed_design,
    graph_of,
    proof_of,
    spoilt,
    table,
    with_threads_gone_under,
    woven,
)

from tracker.path.words import step_sentence
from tracker.pattern.compiler import compile_design, prove_pattern
from tracker.stitches import find_stitch

NAME = "two-drop peyote"

TWO_PAIRS = """\
1 up: +0^
1 up: +1^
1 up: +2^
1 up: +3^ turn
2 down: +4v +5v 1v 0v !2 !3 turn
3 up: +6^ +7^ 5^ 4^ !0 !1 turn
"""
"""Written by hand: string four; pick up two, skip two, go through two."""

THREE_PAIRS = """\
1 up: +0^
1 up: +1^
1 up: +2^
1 up: +3^
1 up: +4^
1 up: +5^ turn
2 down: +6v +7v 3v 2v 1v 0v !4 !5
2 down: +8^ +9^ 2^ 3^ 4^ 5^
2 down: 6v 7v 3v 2v 1v 0v 8^ 9^ turn
3 up: +10^ +11^ 7^ 6^ !2 !3 turn
4 down: +12v +13v 11v 10v !7 !6
4 down: +14v +15v ~0~8 15^ 14^ turn
"""
"""Written by hand: the turns of flat peyote with an odd number, every seed a pair."""


@pytest.mark.parametrize(("lanes", "rows", "by_hand"), [(4, 3, TWO_PAIRS), (6, 4, THREE_PAIRS)])
def test_pass_by_pass(lanes: int, rows: int, by_hand: str) -> None:
    """An even and an odd number of pairs are woven as the tables say.

    The two seeds of a pair that is passed by may be named either way round.
    """

    def sorted_marks(lines: list[str]) -> list[list[str]]:
        return [sorted(line.split(), key=lambda m: m if m[0] == "!" else "") for line in lines]

    found = list(table(woven(a_seed_design(NAME, lanes, rows))))
    assert sorted_marks(by_hand.splitlines()) == sorted_marks(found)


@given(pairs=st.integers(2, 9), rows=st.integers(2, 10))
@settings(max_examples=40, deadline=None)
def test_every_size_is_proved(pairs: int, rows: int) -> None:
    """Any number of pairs and rows proves, again from its file, with twice flat peyote's seeds."""
    done = compile_design(a_seed_design(NAME, 2 * pairs, rows))
    assert () == done.proof.faults == prove_pattern(done.pattern).faults
    flat = woven(a_seed_design("flat peyote", pairs, rows))
    assert 2 * sum(len(row.beads) for row in flat.rows) == done.pattern.totals.total()


def test_only_pairs_go() -> None:
    """An odd number of lanes is refused, an even or odd number of pairs is not."""
    fits = find_stitch(NAME).demands.fits
    assert [4, 6, 8, 10] == [lanes for lanes in range(2, 12) if fits(lanes)]


@given(pairs=st.integers(2, 6), rows=st.integers(2, 8))
@settings(max_examples=20, deadline=None)
def test_hangs_together(pairs: int, rows: int) -> None:
    """networkx: one piece, planar, and no bead alone holds a part.

    But with two rows, as in flat peyote; there the inner seed of the edge's pair holds the outer.
    """
    path = woven(a_seed_design(NAME, 2 * pairs, rows))
    assert nx.check_planarity(with_threads_gone_under(path))[0]
    gone_through = range(2, pairs, 2) if pairs % 2 else range(1, pairs, 2)
    weak = {bead for pair in gone_through for bead in (2 * pair - 2, 2 * pair - 1) if bead}
    weak = weak if rows == 2 else set()
    assert weak == set(nx.articulation_points(graph_of(path)))


@given(pairs=st.integers(2, 6), rows=st.integers(2, 8))
@settings(max_examples=20, deadline=None)
def test_a_pair_is_always_gone_through_as_one(pairs: int, rows: int) -> None:
    """The two seeds of a pair lie end to end, hold as many threads and follow each other."""
    path = woven(a_seed_design(NAME, 2 * pairs, rows))
    passes = [p for row in path.rows for step in row.steps for p in step.passes]
    beads = [bead for row in path.rows for bead in row.beads]
    times = Counter(p.bead for p in passes)
    for one, other in zip(beads[::2], beads[1::2], strict=True):
        assert one.place.x == other.place.x
        assert 1.4 == pytest.approx(abs(one.place.y - other.place.y))
        assert times[one.id] == times[other.id]
    assert all(
        {one.bead // 2} == {other.bead // 2}
        for one, other in zip(passes[::2], passes[1::2], strict=True)
    )


@pytest.mark.parametrize(("lanes", "rows"), [(4, 4), (6, 5), (8, 4), (10, 4)])
def test_every_slip_is_noticed(lanes: int, rows: int) -> None:
    """No single slip of the needle in a small band passes the proof."""
    design = a_seed_design(NAME, lanes, rows)
    good = woven(design)
    assert () == proof_of(design, good).faults
    assert [] == [what for what, path in spoilt(good) if not proof_of(design, path).faults]


def test_gauge_is_that_of_flat_peyote() -> None:
    """The seeds lie as in flat peyote but for pairs, so they come to the same length and width."""
    for seed in ("11/0", "cylinder 11/0"):
        flat = find_stitch("flat peyote").gauge(a_seed_design("flat peyote", 12, 9, seed=seed))
        assert flat == find_stitch(NAME).gauge(a_seed_design(NAME, 12, 9, seed=seed))


def test_both_low_seeds_are_passed_by() -> None:
    """The usual slip, going through the low pair in the gap: each step marks both its seeds."""
    path = woven(a_seed_design(NAME, 8, 3))
    marked = [sorted(step.pass_by) for row in path.rows[1:] for step in row.steps]
    assert [[6, 7], [2, 3], [0, 1], [4, 5]] == marked


def test_the_words() -> None:
    """Pairs are told as two seeds, by colour where they have one."""
    pattern = compile_design(a_seed_design(NAME, 6, 4)).pattern

    def said(row: int, step: int) -> str:
        there = pattern.row(row - 1)
        return step_sentence(pattern, there, there.steps[step - 1], full=True)

    assert (
        "pick up 1 sand seed and 1 lagoon seed; pass by the 2 seeds below them; "
        "go through the 2 seeds after that; go through the 2 seeds strung first and second"
    ) == said(2, 1)
    assert (
        "turn: pick up 1 lagoon seed and 1 sand seed; pass by the 2 seeds below them; "
        "go through the 2 seeds standing out"
    ) == said(3, 1)
    assert said(4, 2).endswith("go back through the 2 seeds you just added")


def test_what_a_learner_is_told() -> None:
    """Of three pairs row 2 has three steps, the last two of them the figure of eight."""
    hint = find_stitch(NAME).hint
    assert 3 == len({hint(2, step, 6) for step in (1, 2, 3)})
    assert 1 == len({hint(2, step, 8) for step in (1, 2)})
