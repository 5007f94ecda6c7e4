"""A chart being painted cell by cell: every change is a new value, and can be undone. Pure.

Ranks and lanes count from 0 here.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from tracker.records import record

MOST_RANKS = 2500
"""As many as a design may have."""
_MOST_UNDONE = 500


@record(kw_only=True)
class Painting:
    """A chart, the cell that the cursor is on, and the colour in use."""

    lines: tuple[str, ...]
    """A letter a lane for each rank; all equally long."""
    letter: str
    """The colour that is painted with."""
    rank: int = 0
    lane: int = 0
    past: tuple[tuple[tuple[str, ...], int, int], ...] = ()
    """Earlier charts, each with the cell that was changed."""

    @property
    def here(self) -> str:
        """The letter under the cursor."""
        return self.lines[self.rank][self.lane]


def move(painting: Painting, ranks: int, lanes: int) -> Painting:
    """The cursor so many cells on, as far as the edge."""
    return replace(
        painting,
        rank=min(max(painting.rank + ranks, 0), len(painting.lines) - 1),
        lane=min(max(painting.lane + lanes, 0), len(painting.lines[0]) - 1),
    )


def paint(painting: Painting, letter: str) -> Painting:
    """The cell under the cursor in that colour, which is the one in use from now on."""
    painting = replace(painting, letter=letter)
    if painting.here == letter:
        return painting
    line = painting.lines[painting.rank]
    changed = line[: painting.lane] + letter + line[painting.lane + 1 :]
    rank = painting.rank
    return _with(painting, (*painting.lines[:rank], changed, *painting.lines[rank + 1 :]))


def insert_rank(painting: Painting) -> Painting:
    """The rank under the cursor twice, the cursor on the second; no more than a design may have."""
    if len(painting.lines) >= MOST_RANKS:
        return painting
    at = painting.rank + 1
    doubled = (*painting.lines[:at], painting.lines[painting.rank], *painting.lines[at:])
    return replace(_with(painting, doubled), rank=at)


def delete_rank(painting: Painting) -> Painting:
    """The chart without the rank under the cursor; the last one stays."""
    if len(painting.lines) == 1:
        return painting
    rank = painting.rank
    rest = (*painting.lines[:rank], *painting.lines[rank + 1 :])
    return replace(_with(painting, rest), rank=min(rank, len(rest) - 1))


def undo(painting: Painting) -> Painting:
    """The chart before the last change, the cursor where that was made."""
    if not painting.past:
        return painting
    *earlier, (lines, rank, lane) = painting.past
    return replace(painting, lines=lines, rank=rank, lane=lane, past=tuple(earlier))


def _with(painting: Painting, lines: tuple[str, ...]) -> Painting:
    before = (painting.lines, painting.rank, painting.lane)
    return replace(painting, lines=lines, past=(*painting.past, before)[-_MOST_UNDONE:])


def fitted(line: str, lanes: int) -> str:
    """A line of letters made so many lanes wide at its middle: both edges stay as they are.

    >>> fitted("BAAB", 8), fitted("BACCAB", 4)
    ('BAAAAAAB', 'BAAB')
    """
    half = len(line) // 2
    if len(line) >= lanes:
        cut = len(line) - lanes
        first = half - cut // 2
        return line[:first] + line[first + cut :]
    return line[:half] + line[half : half + 1] * (lanes - len(line)) + line[half:]


def begun(lines: Sequence[str], lanes: int, letters: Sequence[str], usual: str) -> Painting:
    """A painting of these lines, made so many lanes wide; an empty one has two ranks of `usual`.

    Letters that are no colour's give way to `usual`.
    """
    known = {*letters}
    clean = ["".join(c if c in known else usual for c in line) for line in lines if line]
    return Painting(
        lines=tuple(fitted(line, lanes) for line in clean) or (usual * lanes,) * 2, letter=usual
    )
