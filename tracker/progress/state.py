"""The progress of a piece and what can happen to it: `apply` is pure and the only change there is.

A new kind of event is a dataclass here, a branch in `apply`, and its words in `words.py`.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import UTC, datetime
from typing import assert_never

from tracker.progress import pace
from tracker.progress.outline import Outline
from tracker.progress.pace import Timing
from tracker.progress.position import START, By, Position, exists


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress:
    """How far a piece is. Times are UTC, to the millisecond."""

    started: datetime
    position: Position = START
    last_stitched: datetime | None = None
    by: By = "step"
    """What one press moves by."""
    timing: Timing = field(default_factory=Timing)

    @property
    def row_seconds(self) -> tuple[float, ...]:
        """Seconds of the last finished rows that count, newest last."""
        return self.timing.row_seconds

    @property
    def seconds_a_row(self) -> float | None:
        """The pace, breaks left out; None before three rows are timed."""
        return pace.seconds_a_row(self.timing.row_seconds)


@dataclass(frozen=True, slots=True)
class Moved:
    """The step to do next is now `position`."""

    at: datetime
    position: Position


@dataclass(frozen=True, slots=True)
class Opened:
    """The piece was taken up."""

    at: datetime


@dataclass(frozen=True, slots=True)
class Closed:
    """The piece was put down."""

    at: datetime


@dataclass(frozen=True, slots=True)
class ByChanged:
    """One press now moves by a step, or by a row."""

    at: datetime
    by: By


@dataclass(frozen=True, slots=True)
class Snapshot:
    """The whole progress, in place of all that was before."""

    at: datetime
    progress: Progress


Event = Moved | Opened | Closed | ByChanged | Snapshot


def utc_now() -> datetime:
    """The time of an event that happens now."""
    return to_milliseconds(datetime.now(UTC))


def to_milliseconds(at: datetime) -> datetime:
    """`at` in UTC, as exact as a journal keeps it. A time without its zone is a ValueError."""
    if at.tzinfo is None:
        raise ValueError(f"an event's time needs its zone: {at!r}")
    utc = at.astimezone(UTC)
    return utc.replace(microsecond=utc.microsecond // 1000 * 1000)


def apply(outline: Outline, progress: Progress, event: Event) -> Progress:
    """The progress after `event`. A place that the pattern has not is a ValueError."""
    match event:
        case Moved(at, position):
            _require(outline, position)
            return replace(
                progress,
                position=position,
                last_stitched=at,
                timing=pace.moved(outline, progress.timing, progress.position, position, at),
            )
        case Opened() | Closed():
            return replace(progress, timing=pace.interrupted(progress.timing))
        case ByChanged(_, by):
            # Gaps between rows say nothing about gaps between steps.
            return replace(progress, by=by, timing=replace(progress.timing, gaps=()))
        case Snapshot(_, snapshot):
            _require(outline, snapshot.position)
            return snapshot
        case _:
            assert_never(event)


def _require(outline: Outline, position: Position) -> None:
    if not exists(outline, position):
        raise ValueError(f"the pattern has no row {position.row + 1} step {position.step + 1}")
