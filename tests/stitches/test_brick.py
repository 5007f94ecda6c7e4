"""Brick stitch against tables written by hand, its formula, a graph library and its gauge."""

from collections.abc import Iterator
from dataclasses import replace

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from one_hole import a_seed_design, graph_of, proof_of, spoilt, table, woven
from shapes import shapes

from tracker.design.model import Design, Layout
from tracker.design.shape import drawn_outline
from tracker.path.model import ThreadPath, Under
from tracker.path.words import step_sentence
from tracker.pattern.compiler import compile_design, prove_pattern
from tracker.pattern.stock import remedies
from tracker.stitches import find_stitch

NAME = "brick stitch"

THREE_BY_THREE = """\
1 up: +0^ +1v 0^ 1v
1 up: +2^ 1v 2^
2 down: +3^ +4v ~2~1 4^ 3v 4^ !1
2 down: +5v ~1~0 5^ !0
3 up: +6^ +7v ~5~4 7^ 6v 7^ !4
3 up: +8v ~4~3 8^ !3
"""
FOUR_BY_TWO = """\
1 up: +0v +1^ 0v 1^
1 up: +2v 1^ 2v
1 up: +3^ 2v 3^
2 down: +4^ +5v ~3~2 5^ 4v 5^ !2
2 down: +6v ~2~1 6^ !1
2 down: +7v ~1~0 7^ !0
"""
"""Written by hand after the trade's way of telling it: a ladder; then at each row's beginning pick
up two, go under the first thread, up through the second, down through the first and up through the
second; then pick up one, go under the next thread and up through it. A ladder of an even number
begins downwards, so that its last bead sends the thread up (common practice, from memory)."""

DIAMOND = """\
1 up: +0v +1^ 0v 1^
2 down: +2^ +3v ~1~0 3^ 2v 3^ !0
2 down: +4v ~1~0 4^ !0
3 up: +5^ +6v ~3~2 6^ 5v 6^ !2
4 down: +7v ~6~5 7^ !5
"""
"""Two, three, two, one: row 2 goes out at both edges, at the far one by a second bead on the same
thread; row 3 comes in at both, its first pair on the second thread; the last bead alone."""


def a_shape(*lines: str) -> Design:
    """A design that draws its outline."""
    widest = max(beads for _, beads in drawn_outline(lines))
    layout = Layout(seeds="", kind="shape", lines=lines)
    return a_seed_design(NAME, widest, len(lines), layout=layout)


TRIANGLE = ("A A A A", " A B A", "  A A", "   A")
TRAPEZIUM = ("  A A A", " A B B A", "A B B B A")
LEAF = ("  A A", " A B A", "A B B A", " A B B A", "  A B B A", "   A B A", "    A A", "     A")
LEANING = ("A B A B", " A B A B", "  A B A B", "   A B A B", "  A B A B", " A B A B")
SHAPES = (TRIANGLE, TRAPEZIUM, LEAF, LEANING)


@pytest.mark.parametrize(
    ("lanes", "rows", "by_hand"), [(3, 3, THREE_BY_THREE), (4, 2, FOUR_BY_TWO)]
)
def test_pass_by_pass(lanes: int, rows: int, by_hand: str) -> None:
    """A straight band of odd and of even width is woven as the tables say, hole by hole."""
    assert by_hand.splitlines() == list(table(woven(a_seed_design(NAME, lanes, rows))))


def test_shape_pass_by_pass() -> None:
    """A diamond, which needs every increase and decrease, is woven as the table says."""
    diamond = a_shape(" A A", "A A A", " A A", "  A")
    assert DIAMOND.splitlines() == list(table(woven(diamond)))


@given(lanes=st.integers(2, 14), rows=st.integers(2, 12))
@settings(max_examples=40, deadline=None)
def test_every_size_is_proved(lanes: int, rows: int) -> None:
    """Any width and length proves, again from its file, and has lanes x rows seeds."""
    done = compile_design(a_seed_design(NAME, lanes, rows))
    assert () == done.proof.faults == prove_pattern(done.pattern).faults
    assert lanes * rows == done.pattern.totals.total()


@given(lines=shapes())
@settings(max_examples=120, deadline=None)
def test_every_shape_is_proved(lines: tuple[str, ...]) -> None:
    """Any shape within the rules proves, again from its file; each letter is a bead."""
    done = compile_design(a_shape(*lines))
    assert () == done.proof.faults == prove_pattern(done.pattern).faults
    letters = "".join(lines).replace(" ", "")
    assert {f"s{c}": letters.count(c) for c in set(letters)} == dict(done.pattern.totals)


@pytest.mark.parametrize("lines", SHAPES)
def test_beads_lie_as_drawn(lines: tuple[str, ...]) -> None:
    """Where a letter stands a bead of its colour lies: a character is half a bead, a line a row."""
    seed = a_shape(*lines).own_seed
    found = {
        (
            round(bead.place.x / seed.length),
            round(2 * bead.place.y / seed.diameter - 1),
        ): bead.colour
        for row in woven(a_shape(*lines)).rows
        for bead in row.beads
    }
    drawn = {
        (row, at): letter
        for row, line in enumerate(lines)
        for at, letter in enumerate(line)
        if letter != " "
    }
    assert drawn == found


@given(lines=shapes() | st.tuples(st.integers(2, 9), st.integers(2, 9)))
@settings(max_examples=60, deadline=None)
def test_hangs_together(lines: tuple[str, ...] | tuple[int, int]) -> None:
    """networkx: one piece, planar, and no bead alone holds a part.

    The threads are told bead by bead with the places at which beads hang on them as points of
    their own, in the order in which those beads stand across.
    """
    match lines:
        case int(lanes), int(rows):
            path = woven(a_seed_design(NAME, lanes, rows))
        case _:
            path = woven(a_shape(*map(str, lines)))
    assert nx.check_planarity(_with_hooks(path))[0]
    assert nx.is_biconnected(graph_of(path))


def _with_hooks(path: ThreadPath) -> nx.Graph:
    """Beads and the places where threads hang on threads, joined by pieces of thread."""
    heights = {bead.id: bead.place.y for row in path.rows for bead in row.beads}
    hooks: dict[tuple[int, int], list[int]] = {}
    spans = set()
    last = None
    for row in path.rows:
        for step in row.steps:
            under = dict(step.under)
            for i, p in enumerate(step.passes):
                if i in under:
                    one, other = sorted(under[i], key=heights.__getitem__)
                    hooks.setdefault((one, other), []).append(p.bead)
                elif last is not None and last != p.bead:
                    spans.add(tuple(sorted((last, p.bead), key=heights.__getitem__)))
                last = p.bead
    graph = nx.Graph(spans - set(hooks))
    for (one, other), beads in hooks.items():
        hanging = [("hook", bead) for bead in sorted(beads, key=heights.__getitem__)]
        nx.add_path(graph, [one, *hanging, other])
        graph.add_edges_from((hook, hook[1]) for hook in hanging)
    return graph


@pytest.mark.parametrize(
    "design", [a_seed_design(NAME, 3, 4), a_seed_design(NAME, 4, 3), *(a_shape(*s) for s in SHAPES)]
)
def test_every_slip_is_noticed(design: Design) -> None:
    """No single slip of the needle in a small piece passes the proof, nor under another thread."""
    good = woven(design)
    assert () == proof_of(design, good).faults
    wrong = [*spoilt(good), *_under_others(good)]
    assert [] == [what for what, path in wrong if not proof_of(design, path).faults]


def _under_others(path: ThreadPath) -> Iterator[tuple[str, ThreadPath]]:
    """The path with one thread gone under left out, or taken for the one beside it."""
    for r, row in enumerate(path.rows):
        for s, step in enumerate(row.steps):
            for at, (one, other) in step.under:
                for unders in (
                    (),
                    (Under(at, (one + 1, other + 1)),),
                    (Under(at, (one - 1, other - 1)),),
                ):
                    steps = list(row.steps)
                    steps[s] = step._replace(under=unders)
                    rows = list(path.rows)
                    rows[r] = replace(row, steps=tuple(steps))
                    yield f"row {r + 1} step {s + 1} {unders}", replace(path, rows=tuple(rows))


@pytest.mark.parametrize(
    ("seed", "rows_an_inch", "beads_an_inch"), [("cylinder 11/0", 20, 16), ("11/0", 18, 12)]
)
def test_gauge(seed: str, rows_an_inch: float, beads_an_inch: float) -> None:
    """Peyote turned by a quarter: rows to the inch along, beads across, within 10 %.

    Common practice, from memory: cylinder 11/0 about 20 by 16, round 11/0 about 18 by 12.
    """
    gauge = find_stitch(NAME).gauge(a_seed_design(NAME, 10, 10, seed=seed))
    assert rows_an_inch == pytest.approx(25.4 / gauge.pitch, rel=0.1)
    # Every other row stands half a bead further up.
    assert beads_an_inch == pytest.approx(25.4 / (gauge.width / 10.5), rel=0.1)


def test_width_of_a_shape() -> None:
    """A shape is as wide as its drawing, two characters a bead."""
    gauge = find_stitch(NAME).gauge(a_shape(*LEANING))
    assert (3 + 8) / 2 * 2.1 == pytest.approx(gauge.width)


def test_a_shape_has_the_rows_that_are_drawn() -> None:
    """Where beads run short no other number of rows is proposed, nor other stripes."""
    leaf = a_shape(*LEAF)
    assert () == remedies(leaf, {"sA": 3})
    straight = a_seed_design(NAME, 4, 8)
    assert ["fewer rows"] == [found.kind for found in remedies(straight, {"sA": 12})]


def test_colours_of_a_shape() -> None:
    """The letters of each row, lane 1 first; nothing behind a row's last bead."""
    colour = find_stitch(NAME).colouring(a_shape(*TRIANGLE), 4)
    rows = ["".join(colour(row, lane) for lane in range(1, 5)) for row in range(1, 5)]
    assert ["AAAA", "ABA", "AA", "A"] == rows
    for row, lane in ((0, 1), (5, 1), (1, 0), (1, 5)):
        with pytest.raises(IndexError):
            colour(row, lane)


def _said(design: Design, row: int, *, full: bool) -> list[str]:
    pattern = compile_design(design).pattern
    found = pattern.path().rows[row - 1]
    return [step_sentence(pattern, found, step, full=full) for step in found.steps]


def test_words_of_the_ladder() -> None:
    """Row 1: the first two go round each other, then one at a time."""
    design = a_seed_design(NAME, 3, 3)
    assert [
        "pick up 1 lagoon seed and 1 sand seed; go through both again, each the way it was strung",
        (
            "pick up 1 lagoon seed; go through the sand seed before it, the way it was strung; "
            "go through the lagoon seed you just added"
        ),
    ] == _said(design, 1, full=True)
    assert [
        "1 lagoon seed, 1 sand seed; both again",
        "1 lagoon seed; the one before; the new one",
    ] == _said(design, 1, full=False)


def test_words_of_a_row() -> None:
    """A row: the pair at its beginning, then the next thread, then the same once more."""
    trapezium = a_shape(" A A A", "A B B A")
    assert [
        (
            "pick up 1 lagoon seed and 1 sand seed; pass by the lagoon seed below, it is full; "
            "go under the first thread, between the 2 lagoon seeds; "
            "go back through the second one, the sand seed; "
            "go through the first one, the lagoon seed; "
            "go through the second one again, the sand seed"
        ),
        (
            "pick up 1 sand seed; pass by the lagoon seed below, it is full; "
            "go under the next thread, between the 2 lagoon seeds; "
            "go back through the sand seed you just added"
        ),
        (
            "pick up 1 lagoon seed; pass by the lagoon seed below, it is full; "
            "go under the same thread again, between the 2 lagoon seeds; "
            "go back through the lagoon seed you just added"
        ),
    ] == _said(trapezium, 2, full=True)
    assert [
        (
            "1 lagoon seed, 1 sand seed; past lagoon seed below; under the first thread; "
            "go back through the second; "
            "the first; the second again"
        ),
        "1 sand seed; past lagoon seed below; under the next thread; go back through the new one",
        (
            "1 lagoon seed; past lagoon seed below; under the same thread again; "
            "go back through the new one"
        ),
    ] == _said(trapezium, 2, full=False)


def test_words_of_coming_in() -> None:
    """A row that begins further in hangs on the second thread; a tip on the only one."""
    said = [_said(a_shape(*TRIANGLE), row, full=False)[0] for row in (2, 3, 4)]
    assert ["second", "second", "first"] == [
        text.partition("under the ")[2].partition(" thread")[0] for text in said
    ]
