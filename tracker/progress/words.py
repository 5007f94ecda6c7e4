"""Events as the words of a journal's lines, and back. What is read is what would be written."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import UTC, datetime
from typing import assert_never

from tracker.progress.pace import Timing
from tracker.progress.position import By, Position
from tracker.progress.state import (
    ByChanged,
    Closed,
    Event,
    Moved,
    Opened,
    Progress,
    Snapshot,
)

END = "the end"
_TIME = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z", re.ASCII)
_NUMBERS = re.compile(r"\d{1,9}\.\d{3}( \d{1,9}\.\d{3})*", re.ASCII)
_PLACE = re.compile(r"row (\d{1,9}) step (\d{1,9})", re.ASCII)


class UnknownWordError(ValueError):
    """An event has a word that this version does not know."""


def written(event: Event, row_count: int) -> str:
    """The event in words, its time first."""
    return f"{stamp(event.at)} {_said(event, row_count)}"


def read(text: str, row_count: int) -> Event:
    """The event that `text` tells of. Raises UnknownWordError, or ValueError if it makes no sense.

    >>> read("2026-11-25T13:00:01.123Z at row 3 step 2", 62).position
    Position(row=2, step=1)
    """
    time, _, rest = text.partition(" ")
    word, _, rest = rest.partition(" ")
    if word not in _READERS:
        raise UnknownWordError(word)
    event = _READERS[word](instant(time), rest, row_count)
    if written(event, row_count) != text:
        raise ValueError(f"not as it would be written: {text!r}")
    return event


def stamp(at: datetime) -> str:
    """A time as written: UTC, to the millisecond."""
    return at.astimezone(UTC).replace(tzinfo=None).isoformat(timespec="milliseconds") + "Z"


def instant(text: str) -> datetime:
    """The time that `stamp` wrote. Raises ValueError."""
    if _TIME.fullmatch(text) is None:
        raise ValueError(f"not a time: {text!r}")
    return datetime.fromisoformat(text)


def _said(event: Event, row_count: int) -> str:
    match event:
        case Moved(_, position):
            return f"at {_place(position, row_count)}"
        case Opened():
            return "opened"
        case Closed():
            return "closed"
        case ByChanged(_, by):
            return f"by {by}"
        case Snapshot(_, progress):
            return f"snapshot {_whole(progress, row_count)}"
        case _:
            assert_never(event)


def _place(position: Position, row_count: int) -> str:
    if position == (row_count, 0):
        return END
    return f"row {position.row + 1} step {position.step + 1}"


def _read_place(text: str, row_count: int) -> Position:
    if text == END:
        return Position(row_count, 0)
    found = _PLACE.fullmatch(text)
    if found is None:
        raise ValueError(f"not a place: {text!r}")
    return Position(int(found[1]) - 1, int(found[2]) - 1)


def _read_by(text: str) -> By:
    if text == "step":
        return "step"
    if text == "row":
        return "row"
    raise ValueError(f"neither step nor row: {text!r}")


def _whole(progress: Progress, row_count: int) -> str:
    """A progress as `key: words; key: words`, the keys always the same, in order."""
    timing = progress.timing
    return "; ".join(
        (
            f"started: {stamp(progress.started)}",
            f"at: {_place(progress.position, row_count)}",
            f"last stitched: {_stamp_or_never(progress.last_stitched)}",
            f"by: {progress.by}",
            f"furthest: {_place(timing.furthest, row_count)}",
            f"last move: {_stamp_or_never(timing.last_move)}",
            f"row started: {_stamp_or_never(timing.row_started)}",
            f"row seconds: {_numbers(timing.row_seconds)}",
            f"gaps: {_numbers(timing.gaps)}",
        )
    )


def _read_whole(text: str, row_count: int) -> Progress:
    # Order and completeness of the keys are proved by writing the result again.
    parts = dict(part.split(": ", 1) for part in text.split("; "))
    try:
        return Progress(
            started=instant(parts["started"]),
            position=_read_place(parts["at"], row_count),
            last_stitched=_read_stamp(parts["last stitched"]),
            by=_read_by(parts["by"]),
            timing=Timing(
                furthest=_read_place(parts["furthest"], row_count),
                last_move=_read_stamp(parts["last move"]),
                row_started=_read_stamp(parts["row started"]),
                row_seconds=_read_numbers(parts["row seconds"]),
                gaps=_read_numbers(parts["gaps"]),
            ),
        )
    except KeyError as error:
        raise ValueError(f"no {error} in a snapshot") from error


def _stamp_or_never(at: datetime | None) -> str:
    return "never" if at is None else stamp(at)


def _read_stamp(text: str) -> datetime | None:
    return None if text == "never" else instant(text)


def _numbers(numbers: tuple[float, ...]) -> str:
    return " ".join(f"{number:.3f}" for number in numbers) or "none"


def _read_numbers(text: str) -> tuple[float, ...]:
    if text == "none":
        return ()
    if _NUMBERS.fullmatch(text) is None:
        raise ValueError(f"not numbers: {text!r}")
    return tuple(float(number) for number in text.split(" "))


_READERS: dict[str, Callable[[datetime, str, int], Event]] = {
    "at": lambda at, rest, row_count: Moved(at, _read_place(rest, row_count)),
    "opened": lambda at, _rest, _row_count: Opened(at),
    "closed": lambda at, _rest, _row_count: Closed(at),
    "by": lambda at, rest, _row_count: ByChanged(at, _read_by(rest)),
    "snapshot": lambda at, rest, row_count: Snapshot(at, _read_whole(rest, row_count)),
}
