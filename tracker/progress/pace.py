"""How long a row takes: the median of recent rows, breaks left out. Pure; times in seconds.

A row is timed from the move that reached its first step to the move that left its last. It does
not count when it holds a break, was jumped into, or is done over after going back.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from tracker.progress.outline import Outline
from tracker.progress.position import START, Position, forward
from tracker.records import record

ROWS_KEPT = 50
ROWS_NEEDED = 3
GAPS_KEPT = 20
GAPS_NEEDED = 3
SHORTEST_BREAK = 300.0
BREAK_TIMES_MEDIAN = 4
LONGEST_GAP = 3600.0
"""A longer gap is no measure of anybody's stitching and is not remembered."""
FASTEST_STEP = 1.0
"""A row done faster than this a step was only caught up with: the keys were pressed, no beads."""


@record(kw_only=True)
class Timing:
    """What is remembered to time rows."""

    row_seconds: tuple[float, ...] = ()
    """The last finished rows that count, newest last."""
    gaps: tuple[float, ...] = ()
    """The last gaps between two moves, newest last."""
    last_move: datetime | None = None
    """When the last move was; None while the clock does not run."""
    row_started: datetime | None = None
    """When the row in hand was begun; None when it will not count."""
    furthest: Position = START
    """How far the piece was ever stitched; what lies before is done over."""


def seconds_a_row(row_seconds: tuple[float, ...]) -> float | None:
    """The median of recent rows; None before three of them are there."""
    return _median(row_seconds) if len(row_seconds) >= ROWS_NEEDED else None


def _median(values: tuple[float, ...]) -> float:
    """As in `statistics`, which would take longer to import than all of this package."""
    ordered, middle = sorted(values), len(values) // 2
    return ordered[middle] if len(values) % 2 else (ordered[middle - 1] + ordered[middle]) / 2


def is_break(gap: float, gaps: tuple[float, ...]) -> bool:
    """Whether a `gap` between two moves is no stitching, judged by the recent `gaps`."""
    usual = _median(gaps) if len(gaps) >= GAPS_NEEDED else 0.0
    return gap < 0 or gap > max(SHORTEST_BREAK, BREAK_TIMES_MEDIAN * usual)


def interrupted(timing: Timing) -> Timing:
    """The timing after the piece was put down: the row in hand will not count."""
    return replace(timing, last_move=None, row_started=None)


def moved(
    outline: Outline, timing: Timing, before: Position, after: Position, at: datetime
) -> Timing:
    """The timing after a move from `before` to `after`."""
    gaps, started, rows = timing.gaps, timing.row_started, timing.row_seconds
    gap = None if timing.last_move is None else (at - timing.last_move).total_seconds()
    stitched = after > before and after in (
        forward(outline, before, "step"),
        forward(outline, before, "row"),
    )
    if gap is None or is_break(gap, gaps) or not stitched:
        started = None
    if gap is not None and 0 <= gap <= LONGEST_GAP:
        gaps = (*gaps, round(gap, 3))[-GAPS_KEPT:]
    if stitched and after.step == 0:
        if started is not None:
            took = round((at - started).total_seconds(), 3)
            if took >= FASTEST_STEP * outline.steps_in(before.row):
                rows = (*rows, took)[-ROWS_KEPT:]
        started = at if after >= timing.furthest else None
    return Timing(
        row_seconds=rows,
        gaps=gaps,
        last_move=at,
        row_started=started,
        furthest=max(timing.furthest, after) if stitched else timing.furthest,
    )
