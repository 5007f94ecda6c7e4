"""Which colour each tile has."""

from __future__ import annotations

from collections.abc import Callable
from itertools import groupby

from tracker.design.model import Layout


def _stripes(layout: Layout) -> list[tuple[str, ...]]:
    return [tuple(run) for _, run in groupby(layout.lines)]


def repeat(layout: Layout) -> tuple[str, ...]:
    """The lines of one whole repeat: those of the layout, and the way back if it is mirrored.

    The stripe (run of equal lines) at each turning point is not doubled: AABBCC goes
    AABBCCBB AABBCCBB and so on.
    """
    if not layout.mirror:
        return layout.lines
    stripes = _stripes(layout)
    back = tuple(line for stripe in reversed(stripes[1:-1]) for line in stripe)
    return layout.lines + back


def repeat_rows(layout: Layout) -> int:
    """Rows of one whole repeat of the colours; 1 for lengthwise stripes, which end anywhere."""
    if layout.kind == "lanes":
        return 1
    return len(repeat(layout)) * (1 if layout.kind == "rows" else 2)


def _shift(layout: Layout, lines_in_band: int) -> int:
    """How many lines into the repeat the band begins.

    Centred, the middle of the band falls on the middle of the repeat; on the middle of the
    stripe at the far turning point (the layout's last) if mirrored. Where that falls between
    two halves of a line, the band begins half a line early.
    """
    if not layout.centre:
        return 0
    doubled_middle = len(layout.lines)
    if layout.mirror:
        doubled_middle = 2 * len(layout.lines) - len(_stripes(layout)[-1])
    return (doubled_middle - lines_in_band) // 2


def tile_colour(layout: Layout, columns: int, rows: int) -> Callable[[int, int], str]:
    """The letter of the tile at (row, column), both from 1, in a band of that size.

    The tile of column c lies in lane 2c - 1 in an even row and in lane 2c in an odd one; rank k
    is rows 2k - 1 and 2k. The answer is quick and the same each time; a tile outside the band
    raises IndexError.
    """
    lines = repeat(layout)
    in_rank = layout.kind != "rows"
    shift = _shift(layout, (rows + 1) // 2 if in_rank else rows)

    def colour(row: int, column: int) -> str:
        if not (1 <= row <= rows and 1 <= column <= columns):
            raise IndexError(f"no tile at row {row}, column {column} of {rows} by {columns}")
        unit = (row - 1) // 2 if in_rank else row - 1
        line = lines[(unit + shift) % len(lines)]
        return line[2 * column - 1 - (row % 2 == 0)] if in_rank else line

    return colour
