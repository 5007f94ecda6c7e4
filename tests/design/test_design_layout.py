from collections.abc import Sequence
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from tracker.design.layout import repeat, tile_colour
from tracker.design.model import Kind, Layout


def _layout(kind: Kind, lines: Sequence[str], **more: Any) -> Layout:
    return Layout(seeds="S", kind=kind, lines=tuple(lines), **more)


def _by_row(layout: Layout, rows: int) -> str:
    colour = tile_colour(layout, 2, rows)
    assert all(colour(row, 1) == colour(row, 2) for row in range(1, rows + 1))
    return "".join(colour(row, 1) for row in range(1, rows + 1))


def test_lanes_run_lengthwise() -> None:
    """Odd rows feed the inner lane of column 1 and the outer of column 2; even rows the others."""
    colour = tile_colour(_layout("lanes", ["ABCD"]), 2, 9)
    for row in range(1, 10):
        assert ("BD" if row % 2 else "AC") == colour(row, 1) + colour(row, 2)


def test_rows_repeat_to_the_end() -> None:
    """A letter a row, over and over; the last repeat is cut where the band ends."""
    assert "AABAABA" == _by_row(_layout("rows", "AAB"), 7)


def test_a_rank_of_a_chart_is_two_rows() -> None:
    """Rank k gives rows 2k - 1 and 2k: lanes 2c to the odd row, lanes 2c - 1 to the even."""
    colour = tile_colour(_layout("chart", ["ABCD", "EFGH"]), 2, 6)
    woven = [colour(row, 1) + colour(row, 2) for row in range(1, 7)]
    assert ["BD", "AC", "FH", "EG", "BD", "AC"] == woven


@pytest.mark.parametrize(
    ("lines", "whole"),
    [("AABBCC", "AABBCCBB"), ("ABCDE", "ABCDEDCB"), ("AABB", "AABB"), ("A", "A"), ("AAA", "AAA")],
)
def test_mirrored_stripes_are_not_doubled_at_the_turn(lines: str, whole: str) -> None:
    """There and back again, each turning stripe woven once."""
    assert whole == "".join(repeat(_layout("rows", lines, mirror=True)))
    woven = _by_row(_layout("rows", lines, mirror=True), 3 * len(whole))
    assert whole * 3 == woven


def test_a_mirrored_chart_turns_by_ranks() -> None:
    """The ranks of a chart come back in reverse, each as it was."""
    chart = _layout("chart", ["AAAA", "ABAB", "BBBB"], mirror=True)
    assert ("AAAA", "ABAB", "BBBB", "ABAB") == repeat(chart)


def test_centred_repeats_by_hand() -> None:
    """Ten rows centred on repeats of AABBB begin and end within the repeat alike."""
    assert "BBBAABBBAA" == _by_row(_layout("rows", "AABBB", centre=True), 10)
    assert "AABBB" == _by_row(_layout("rows", "AABBB", centre=True), 5)
    assert "BAABBBA" == _by_row(_layout("rows", "AABBB", centre=True), 7)
    assert "BCCB" == _by_row(_layout("rows", "AABBCC", centre=True, mirror=True), 4)


stripes = st.text("ABC", min_size=1, max_size=12)


@given(lines=stripes, rows=st.integers(2, 60))
def test_a_centred_repeat_is_cut_alike_at_both_ends(lines: str, rows: int) -> None:
    """Lines missing from the repeat at the start and at the end differ by one at most."""
    count = len(lines)
    woven = _by_row(_layout("rows", lines, centre=True), rows)
    cuts = [c for c in range(count) if all(lines[(i + c) % count] == woven[i] for i in range(rows))]
    ends = [(c, (count - 1 - (c + rows - 1)) % count) for c in cuts]
    assert any(min((a - b) % count, (b - a) % count) <= 1 for a, b in ends)


@given(lines=stripes, rows=st.integers(2, 60))
def test_a_centred_mirror_reads_the_same_from_both_ends(lines: str, rows: int) -> None:
    """Read backwards the band is itself, but for at most one line."""
    woven = _by_row(_layout("rows", lines, centre=True, mirror=True), rows)
    back = woven[::-1]
    assert back == woven or back[1:] == woven[:-1] or back[:-1] == woven[1:]


@given(lines=stripes, rows=st.integers(2, 60))
def test_a_centred_chart_counts_ranks(lines: str, rows: int) -> None:
    """A chart of plain ranks is a layout by rows with each row doubled."""
    assume(rows % 2 == 0)
    chart = _layout("chart", [letter * 4 for letter in lines], centre=True)
    by_rank = _by_row(_layout("rows", lines, centre=True), rows // 2)
    assert "".join(letter * 2 for letter in by_rank) == _by_row(chart, rows)


@pytest.mark.parametrize(("row", "column"), [(0, 1), (11, 1), (1, 0), (1, 3)])
def test_there_is_no_tile_outside_the_band(row: int, column: int) -> None:
    """A place outside the band is an error, not another tile's colour."""
    with pytest.raises(IndexError):
        tile_colour(_layout("lanes", ["ABCD"]), 2, 10)(row, column)
