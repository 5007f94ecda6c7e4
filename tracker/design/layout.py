"""Which colour each bead has."""

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


def repeat_rows(layout: Layout, in_rank: int = 2) -> int:
    """Rows of one whole repeat of the colours; 1 for lengthwise stripes, which end anywhere.

    `in_rank` is how many rows a line of a chart stands for.
    """
    if layout.kind == "lanes":
        return 1
    return len(repeat(layout)) * (in_rank if layout.kind == "chart" else 1)


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


def bead_colour(
    layout: Layout, lanes: int, rows: int, in_rank: int = 2
) -> Callable[[int, int], str]:
    """The letter of the bead at (row, lane), both from 1, in a band of that size.

    A line of a chart stands for `in_rank` rows. The answer is quick and the same each time; a bead
    outside the band raises IndexError.
    """
    lines = repeat(layout)
    by_rows = layout.kind == "rows"
    unit_rows = 1 if by_rows else in_rank
    shift = _shift(layout, -(-rows // unit_rows))

    def colour(row: int, lane: int) -> str:
        if not (1 <= row <= rows and 1 <= lane <= lanes):
            raise IndexError(f"no bead at row {row}, lane {lane} of {rows} by {lanes}")
        line = lines[((row - 1) // unit_rows + shift) % len(lines)]
        return line if by_rows else line[lane - 1]

    return colour


def tile_colour(layout: Layout, columns: int, rows: int) -> Callable[[int, int], str]:
    """The letter of the tile at (row, column), both from 1, where each row fills every other lane.

    The tile of column c lies in lane 2c - 1 in an even row and in lane 2c in an odd one; rank k
    is rows 2k - 1 and 2k. A tile outside the band raises IndexError.
    """
    bead = bead_colour(layout, 2 * columns, rows)

    def colour(row: int, column: int) -> str:
        return bead(row, 2 * column - (row % 2 == 0))

    return colour
