"""The progress of a piece and what can happen to it: `apply` is pure and the only change there is.

A new kind of event is a record here, a branch in `apply`, and its words in `words.py`.
"""

from __future__ import annotations

from dataclasses import field, replace
from datetime import UTC, datetime
from typing import NamedTuple, assert_never

from tracker.progress import pace
from tracker.progress.outline import Outline
from tracker.progress.pace import Timing
from tracker.progress.position import START, By, Position, exists
from tracker.records import record


class Length(NamedTuple):
    """A length in mm, and how many rows were done when it was taken."""

    rows: int
    mm: float


class Count(NamedTuple):
    """Beads of a kind that were counted, and the place of the piece at that moment.

    What was lost since is taken off; what was stitched since is told by the two places.
    """

    key: str
    beads: int
    position: Position


MOST_BEADS = 1_000_000
"""Nobody has more of a kind on hand for one piece."""


@record(kw_only=True)
class Progress:
    """How far a piece is. Times are UTC, to the millisecond."""

    started: datetime
    position: Position = START
    last_stitched: datetime | None = None
    by: By = "step"
    """What one press moves by."""
    measured: tuple[Length, ...] = ()
    """What the piece measured, in the order of measuring."""
    cuts: tuple[Length, ...] = ()
    """Lengths of thread joined: each from the row (from 0) that it was begun with."""
    lost: tuple[tuple[str, int], ...] = ()
    """Beads dropped or broken, by shape's and colour's letter ("tA"), sorted."""
    on_hand: tuple[Count, ...] = ()
    """Beads counted, sorted by their letters; kinds that were not counted are not here."""
    unpicking: Position | None = None
    """The place to go back to while work is being taken out."""
    timing: Timing = field(default_factory=Timing)

    @property
    def row_seconds(self) -> tuple[float, ...]:
        """Seconds of the last finished rows that count, newest last."""
        return self.timing.row_seconds

    @property
    def seconds_a_row(self) -> float | None:
        """The pace, breaks left out; None before three rows are timed."""
        return pace.seconds_a_row(self.timing.row_seconds)


LONGEST = 100_000.0
"""No piece and no thread is longer, mm."""


@record
class Moved:
    """The step to do next is now `position`."""

    at: datetime
    position: Position


@record
class Opened:
    """The piece was taken up."""

    at: datetime


@record
class Closed:
    """The piece was put down."""

    at: datetime


@record
class ByChanged:
    """One press now moves by a step, or by a row."""

    at: datetime
    by: By


@record
class Measured:
    """With this many rows done the piece measured so much."""

    at: datetime
    length: Length


@record
class Joined:
    """A new length of thread goes on from here."""

    at: datetime
    length: Length


@record
class Lost:
    """Beads were dropped or broken; a negative count takes a slip of the finger back."""

    at: datetime
    key: str
    count: int


@record
class OnHand:
    """So many beads of a kind, by shape's and colour's letter, are there to go on with."""

    at: datetime
    key: str
    count: int


@record
class Unpicking:
    """Work is to be taken out back to `goal`; None when that is given up."""

    at: datetime
    goal: Position | None


@record
class Snapshot:
    """The whole progress, in place of all that was before."""

    at: datetime
    progress: Progress


Event = (
    Moved | Opened | Closed | ByChanged | Measured | Joined | Lost | OnHand | Unpicking | Snapshot
)


def utc_now() -> datetime:
    """The time of an event that happens now."""
    return to_milliseconds(datetime.now(UTC))


def to_milliseconds(at: datetime) -> datetime:
    """`at` in UTC, as exact as a journal keeps it. A time without its zone is a ValueError."""
    if at.tzinfo is None:
        raise ValueError(f"an event's time needs its zone: {at!r}")
    utc = at.astimezone(UTC)
    return utc.replace(microsecond=utc.microsecond // 1000 * 1000)


def apply(  # noqa: C901, PLR0911, PLR0912  an event a branch
    outline: Outline, progress: Progress, event: Event
) -> Progress:
    """The progress after `event`. A place that the pattern has not is a ValueError."""
    match event:
        case Moved(at, position):
            _require(outline, position)
            return replace(
                progress,
                position=position,
                last_stitched=at,
                unpicking=_still(progress.unpicking, position),
                timing=pace.moved(outline, progress.timing, progress.position, position, at),
            )
        case Opened() | Closed():
            return replace(progress, timing=pace.interrupted(progress.timing))
        case ByChanged(_, by):
            # Gaps between rows say nothing about gaps between steps.
            return replace(progress, by=by, timing=replace(progress.timing, gaps=()))
        case Measured(_, length):
            return replace(progress, measured=(*progress.measured, _sound(outline, length)))
        case Joined(_, length):
            return replace(progress, cuts=(*progress.cuts, _sound(outline, length)))
        case Lost(_, key, count):
            lost = _lost(progress.lost, key, count)
            # A slip that is taken back gives no more beads than it took.
            gone = dict(lost).get(key, 0) - dict(progress.lost).get(key, 0)
            return replace(progress, lost=lost, on_hand=_less(progress.on_hand, key, gone))
        case OnHand(_, key, count):
            if not 0 <= count <= MOST_BEADS:
                raise ValueError(f"nobody has {count} beads on hand")
            others = [counted for counted in progress.on_hand if counted.key != key]
            counted = Count(key, count, progress.position)
            return replace(progress, on_hand=tuple(sorted([*others, counted])))
        case Unpicking(_, goal):
            if goal is not None:
                _require(outline, goal)
            return replace(progress, unpicking=_still(goal, progress.position))
        case Snapshot(_, snapshot):
            for place in (snapshot.position, *(counted.position for counted in snapshot.on_hand)):
                _require(outline, place)
            return snapshot
        case _:
            assert_never(event)


def _still(goal: Position | None, position: Position) -> Position | None:
    """The goal of unpicking while it lies behind; None once it is reached."""
    return goal if goal is not None and goal < position else None


def _sound(outline: Outline, length: Length) -> Length:
    if not 0 <= length.rows <= outline.row_count or not 0 < length.mm <= LONGEST:
        raise ValueError(f"no length of this piece: {length}")
    return length


def _lost(lost: tuple[tuple[str, int], ...], key: str, count: int) -> tuple[tuple[str, int], ...]:
    counts = dict(lost)
    counts[key] = max(0, counts.get(key, 0) + count)
    return tuple(sorted((key, n) for key, n in counts.items() if n))


def _less(on_hand: tuple[Count, ...], key: str, gone: int) -> tuple[Count, ...]:
    return tuple(
        counted._replace(beads=max(0, counted.beads - gone)) if counted.key == key else counted
        for counted in on_hand
    )


def _require(outline: Outline, position: Position) -> None:
    if not exists(outline, position):
        raise ValueError(f"the pattern has no row {position.row + 1} step {position.step + 1}")
