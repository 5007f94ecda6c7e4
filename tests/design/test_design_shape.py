"""A layout that draws the outline of the work: read as drawn, its faults told with their lines."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.design.demands import Demands
from tracker.design.model import Design, Size
from tracker.design.reader import parse_design
from tracker.design.shape import drawn_outline
from tracker.problems import ProblemsError

STITCHES = {
    "brick stitch": Demands(
        tile=False, own_seeds=False, across="lanes", most=9, in_rank=1, shaped=True
    ),
    "square stitch": Demands(tile=False, own_seeds=False, across="lanes", most=9, in_rank=1),
}
HEAD = """\
format = 1
name = "Harbour lights"
stitch = "brick stitch"
"""
REST = """
[beads]
seed = "11/0"
[colours]
A = { name = "lagoon", hex = "#2a7f8e" }
B = { name = "sand", hex = "#e8dcc0" }
[layout]
"""


def _read(shape: str, more: str = "") -> Design:
    drawing = f'shape = """{shape}"""\n'
    return parse_design(HEAD + more + REST + drawing, stitches=STITCHES)


def _problems(shape: str, more: str = "") -> list[tuple[str, str, str]]:
    with pytest.raises(ProblemsError) as caught:
        _read(shape, more)
    return [(p.where, p.what, p.mend) for p in caught.value.problems]


LEAF = """
      A A
     A B A
    A B B A
     A B A
"""


def test_read_as_drawn() -> None:
    """Rows, width and size follow from the drawing, wherever it stands on the page."""
    design = _read(LEAF)
    assert ("  A A", " A B A", "A B B A", " A B A") == design.layout.lines
    assert ("shape", 4, Size(rows=4)) == (design.layout.kind, design.lanes, design.size)


def test_outline() -> None:
    """Where each row begins, in half beads, and how many beads it has: counted by hand."""
    assert ((2, 2), (1, 3), (0, 4), (1, 3)) == drawn_outline(_read(LEAF).layout.lines)


@given(left=st.integers(0, 9), above=st.integers(0, 3), below=st.integers(0, 3))
def test_margins_say_nothing(left: int, above: int, below: int) -> None:
    """Empty lines around a drawing and its distance from the left change nothing."""
    rows = [" A A", "A B A"]
    text = "\n" * (above + 1) + "\n".join(" " * left + row for row in rows) + "\n" * below
    assert tuple(rows) == _read(text).layout.lines


def test_the_widest_row_may_be_said() -> None:
    """Lanes beside a shape are good if they say what it says, and a problem if not."""
    assert 4 == _read(LEAF, "lanes = 4\n").lanes
    what = "5 lanes, and the widest line of the shape has 4 beads"
    mend = "leave it out: it follows from the shape"
    assert [("lanes", what, mend)] == _problems(LEAF, "lanes = 5\n")


HALF = ": half a bead a row"
ONE_SPACE = "write one space between two letters: a character is half a bead"


@pytest.mark.parametrize(
    ("shape", "due"),
    [
        (
            "\nA A\nA A\n",
            [
                (2, "begins at the same place as the line before", "left or right"),
                (2, "ends at the same place as the line before", "right or left"),
            ],
        ),
        (
            "\n   A A\nA B A B A\n",
            [
                (2, "begins 3 characters further out than the line before", "left or right"),
                (2, "ends 3 characters further out than the line before", "right or left"),
            ],
        ),
        (
            "\nA A A A\n   A A\n",
            [(2, "begins 3 characters further in than the line before", "left or right")],
        ),
    ],
)
def test_edges(shape: str, due: list[tuple[int, str, str]]) -> None:
    """Each edge goes half a bead out or in, a character; whatever else is told edge by edge."""
    mended = [
        (f"layout.shape line {n}", what, f"let it be one character further {ways}{HALF}")
        for n, what, ways in due
    ]
    assert mended == _problems(shape)[: len(mended)]


@pytest.mark.parametrize(
    ("shape", "line", "what", "mend"),
    [
        ("AB A\n A B\n", 1, '"AB A" has letters that do not stand two characters apart', ONE_SPACE),
        (
            "A  A\n A A\n",
            1,
            '"A  A" has letters that do not stand two characters apart',
            ONE_SPACE,
        ),
        (
            "A A A\n A   A\n",
            2,
            '"A   A" has a gap',
            "fill it: a row is one piece, its edges alone are shaped",
        ),
        (
            "A A A\n\n A A\n",
            2,
            "is empty within the shape",
            "take the line out, or draw its row",
        ),
        ("A\nA A\n", 1, "has one bead, which only the last row may", "draw two or more"),
        (
            "A A\n A\nA A\n",
            2,
            "has one bead, which only the last row may",
            "draw two or more",
        ),
        (
            "A A A A A A A A A A\n A A A A A A A A A\n",
            1,
            "has 10 beads",
            "draw no more than 9",
        ),
        ("A A\n a A A\n", 2, '"a" is no colour\'s letter', "write it as a capital, A"),
        (
            "A A\n\tA\n",
            2,
            '"\t" is no colour\'s letter',
            "use the letters of colours only: A, B",
        ),
    ],
)
def test_rows(shape: str, line: int, what: str, mend: str) -> None:
    """What is wrong with a row is told with its line, counted as the beader sees it."""
    assert (f"layout.shape line {line}", what, mend) in _problems(shape)


def test_all_at_once() -> None:
    """Every problem of a drawing is told in one go, and what does not go with a drawing."""
    wrong = _problems("A X\nB  A\n", '[size]\nlength = "150 mm"\n')
    assert {"size", "layout.shape line 1", "layout.shape line 2"} == {
        where for where, _, _ in wrong
    }
    what = "has no place beside a shape, which has a line for each row"
    assert ("size", what, "leave it out") in wrong
    assert ("fit", what, "leave it out") in _problems(LEAF, '[fit]\nwrist = "160 mm"\n')


def test_one_row_is_no_shape() -> None:
    """A shape has two rows or more, and something in it."""
    assert [("layout.shape", "has one row", "draw two or more, a line each")] == _problems("A A A")
    mend = "write the letters of colours, such as AABB"
    assert [("layout.shape", "is empty", mend)] == _problems("\n  \n")


def test_only_where_a_stitch_can() -> None:
    """In a stitch that cannot be shaped the key is not known."""
    text = HEAD.replace("brick", "square") + REST + 'shape = "A A"\n'
    with pytest.raises(ProblemsError) as caught:
        parse_design(text, stitches=STITCHES)
    assert ["layout.shape"] == [p.where for p in caught.value.problems]


@given(st.text("AB \n", max_size=60))
def test_any_drawing_is_read_or_told(drawing: str) -> None:
    """Whatever is drawn in letters and spaces either is a shape within the rules, or is refused."""
    try:
        lines = _read("\n" + drawing).layout.lines
    except ProblemsError:
        return
    outline = drawn_outline(lines)
    assert all(beads >= 2 for _, beads in outline[:-1])
    edges = [(first, first + 2 * beads) for first, beads in outline]
    for before, after in pairwise(edges):
        assert [1, 1] == [abs(a - b) for a, b in zip(before, after, strict=True)]
