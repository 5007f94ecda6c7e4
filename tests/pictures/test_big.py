"""Large print: every letter of a design can be drawn, and no two look alike."""

from __future__ import annotations

import string
from itertools import combinations

import pytest

from tracker.pictures.big import HEIGHT, Sign, big_line, width_of

SIGNS = string.ascii_uppercase + string.digits + "^v><+"


def dots(sign: str) -> str:
    """A sign as it stands, without colours."""
    return "\n".join(
        "".join(cell.text for cell in row) for row in big_line((Sign(sign),), mono=True)
    )


@pytest.mark.parametrize(("one", "other"), list(combinations(SIGNS, 2)))
def test_no_two_signs_look_alike(one: str, other: str) -> None:
    """Any two differ in two cells or more."""
    assert 2 <= sum(a != b for a, b in zip(dots(one), dots(other), strict=True))


def test_signs_stand_side_by_side_on_their_own_colours() -> None:
    """Height, width and colours are as asked for."""
    signs = (Sign("1", "#ffffff", "#000000"), Sign("A", "#101010", "#e8dcc0"))
    rows = big_line(signs, mono=False)
    assert HEIGHT + 2 == len(rows)
    assert {width_of(signs)} == {len(row) for row in rows}
    assert {"#000000", "#e8dcc0"} == {cell.back for row in rows for cell in row}


def test_without_colours_there_are_none() -> None:
    """Mono cells carry no colour."""
    rows = big_line((Sign("A", "#101010", "#e8dcc0"),), mono=True)
    assert {("", "")} == {(cell.front, cell.back) for row in rows for cell in row}
