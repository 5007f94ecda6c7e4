"""Rows folded into those they are like, and unfolded again."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from weaving import a_design, layouts

from tracker.path.words import step_sentence
from tracker.pattern.compiler import compile_design
from tracker.pictures.folding import Like, fold
from tracker.pictures.page import folded_rows


def unfolded(parts: list[int | Like]) -> list[tuple[int, int]]:
    """Each row with the row that is written out for it."""
    rows = []
    for part in parts:
        rows += list(part.rows()) if isinstance(part, Like) else [(part, part)]
    return rows


@given(st.lists(st.sampled_from("abcd"), max_size=40) | st.text("ab", max_size=60).map(list))
def test_any_rows_come_back(kinds: list[str]) -> None:
    """Unfolded, every row is there once, in order, and is like the written row it points to."""
    parts = list(fold(kinds))
    rows = unfolded(parts)
    assert list(range(len(kinds))) == [row for row, _ in rows]
    assert kinds == [kinds[like] for _, like in rows]
    written = {part for part in parts if not isinstance(part, Like)}
    assert {like for _, like in rows} == written
    assert len(set(kinds)) == len(written)


@settings(max_examples=25, deadline=None)
@given(columns=st.integers(2, 4), rows=st.integers(2, 24), data=st.data())
def test_folded_rows_are_the_rows_of_the_pattern(
    columns: int, rows: int, data: st.DataObject
) -> None:
    """What the folded words say of a row is, step by step, what the pattern says of it."""
    pattern = compile_design(a_design(columns, rows, layout=data.draw(layouts(columns)))).pattern

    def words(row: int) -> list[str]:
        found = pattern.row(row)
        steps = [step_sentence(pattern, found, step, full=False) for step in found.steps]
        return [found.heading, *steps]

    told = unfolded(list(folded_rows(pattern)))
    assert list(range(rows)) == [row for row, _ in told]
    assert [words(row) for row in range(rows)] == [words(like) for _, like in told]


@pytest.mark.parametrize(
    ("kinds", "said"),
    [
        ("abcdcdcdc", ["Rows 5 to 9: like rows 3 and 4 in turn"]),
        ("abcc", ["Row 4: like row 3"]),
        ("abccc", ["Rows 4 and 5: like row 3"]),
        ("abcdabcd", ["Rows 5 to 8: like rows 1 to 4"]),
        ("abcdbcd", ["Rows 5 to 7: like rows 2 to 4"]),
        ("abcdabcdab", ["Rows 5 to 10: like rows 1 to 4 in turn"]),
        ("abcdedcb", ["Rows 6 to 8: like rows 4 back to 2"]),
        ("abab", ["Rows 3 and 4: like rows 1 and 2"]),
        ("abcba", ["Rows 4 and 5: like rows 2 and 1"]),
    ],
)
def test_sentences(kinds: str, said: list[str]) -> None:
    """Repeats, copies and rows gone back over are said as people say them."""
    assert said == [part.sentence() for part in fold(kinds) if isinstance(part, Like)]
