"""Rows said once: every later row that is like one said before is folded into a short line."""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Sequence

from tracker.path.words import listed
from tracker.records import record


@record
class Like:
    """The rows `first` to `last` are like the rows of `cycle`, over and over. All from 0.

    The rows of the cycle are written out themselves.
    """

    first: int
    last: int
    cycle: tuple[int, ...]

    def rows(self) -> Iterator[tuple[int, int]]:
        """Each row, and the row that it is like."""
        for i, row in enumerate(range(self.first, self.last + 1)):
            yield row, self.cycle[i % len(self.cycle)]

    def sentence(self) -> str:
        """`Rows 5 to 21: like rows 3 and 4 in turn`."""
        like = _named([row + 1 for row in self.cycle])
        rows = _named([row + 1 for row in range(self.first, self.last + 1)])
        again = self.last - self.first + 1 > len(self.cycle) > 1
        return f"{rows.capitalize()}: like {like}{' in turn' if again else ''}"


def _named(rows: Sequence[int]) -> str:
    """Rows that follow each other, either way."""
    if len(rows) < 3:
        return f"row{'s' if len(rows) > 1 else ''} {listed([str(row) for row in rows])}"
    return f"rows {rows[0]} {'to' if rows[0] < rows[1] else 'back to'} {rows[-1]}"


def fold(kinds: Sequence[Hashable]) -> Iterator[int | Like]:
    """The rows in order: the number of a row to write out, or rows that are like such rows.

    `kinds` are equal where rows are alike.
    """
    seen: dict[Hashable, int] = {}
    first = [seen.setdefault(kind, row) for row, kind in enumerate(kinds)]
    row = 0
    while row < len(first):
        if first[row] == row:
            yield row
            row += 1
        else:
            like = max(_likes(first, row), key=lambda found: (found.last, -len(found.cycle)))
            yield like
            row = like.last + 1


def _likes(first: Sequence[int], row: int) -> Iterator[Like]:
    """The ways to fold rows from `row` on: along rows written out, or back along them."""
    start = first[row]
    for way in (1, -1):
        straight = _run(first, row, start, way, len(first))
        for period in range(1, straight + 1):
            rows = _run(first, row, start, way, period)
            yield Like(row, row + rows - 1, tuple(start + way * i for i in range(period)))


def _run(first: Sequence[int], row: int, start: int, way: int, period: int) -> int:
    """How many rows from `row` on go along `period` rows from `start`, over and over."""
    rows = 0
    while row + rows < len(first) and first[row + rows] == start + way * (rows % period):
        rows += 1
    return rows
