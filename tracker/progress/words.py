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
    Count,
    Event,
    Joined,
    Length,
    Lost,
    Measured,
    Moved,
    OnHand,
    Opened,
    Progress,
    Snapshot,
    Unpicking,
)

END = "the end"
_TIME = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z", re.ASCII)
_PLACE = re.compile(r"row (\d{1,9}) step (\d{1,9})", re.ASCII)
# Many a journal has none of these: compiled, and kept so, when the first one is read.
_NUMBERS = r"\d{1,9}\.\d{3}( \d{1,9}\.\d{3})*"
_LENGTH = r"(\d{1,6}\.\d{3}) mm at (\d{1,9}) rows"
_LOST = r"(-?\d{1,6}) ([a-z][A-Z])"
_ON_HAND = r"(\d{1,7}) ([a-z][A-Z])"
_COUNT = rf"{_ON_HAND} at (.+)"


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


def _said(event: Event, row_count: int) -> str:  # noqa: C901, PLR0911  an event a branch
    match event:
        case Moved(_, position):
            return f"at {_place(position, row_count)}"
        case Opened():
            return "opened"
        case Closed():
            return "closed"
        case ByChanged(_, by):
            return f"by {by}"
        case Measured(_, length):
            return f"measured {_length(length)}"
        case Joined(_, length):
            return f"joined {_length(length)}"
        case Lost(_, key, count):
            return f"lost {count} {key}"
        case OnHand(_, key, count):
            return f"counted {count} {key}"
        case Unpicking(_, goal):
            return f"unpicking {_goal(goal, row_count)}"
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
    # Left out where nothing was counted: older journals have no such key.
    on_hand = ", ".join(_count(counted, row_count) for counted in progress.on_hand)
    return "; ".join(
        (
            f"started: {stamp(progress.started)}",
            f"at: {_place(progress.position, row_count)}",
            f"last stitched: {_stamp_or_never(progress.last_stitched)}",
            f"by: {progress.by}",
            f"measured: {_lengths(progress.measured)}",
            f"cuts: {_lengths(progress.cuts)}",
            f"lost: {_beads(progress.lost)}",
            *([f"counted: {on_hand}"] if on_hand else []),
            f"unpicking: {_goal(progress.unpicking, row_count)}",
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
            measured=_read_lengths(parts["measured"]),
            cuts=_read_lengths(parts["cuts"]),
            lost=_read_beads(parts["lost"]),
            on_hand=_read_counts(parts.get("counted", ""), row_count),
            unpicking=_read_goal(parts["unpicking"], row_count),
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


def _length(length: Length) -> str:
    return f"{length.mm:.3f} mm at {length.rows} rows"


def _read_length(text: str) -> Length:
    found = re.fullmatch(_LENGTH, text, re.ASCII)
    if found is None:
        raise ValueError(f"not a length: {text!r}")
    return Length(int(found[2]), float(found[1]))


def _lengths(lengths: tuple[Length, ...]) -> str:
    return ", ".join(map(_length, lengths)) or "none"


def _read_lengths(text: str) -> tuple[Length, ...]:
    return () if text == "none" else tuple(map(_read_length, text.split(", ")))


def _read_lost(at: datetime, text: str) -> Lost:
    found = re.fullmatch(_LOST, text, re.ASCII)
    if found is None:
        raise ValueError(f"no lost beads: {text!r}")
    return Lost(at, found[2], int(found[1]))


def _beads(lost: tuple[tuple[str, int], ...]) -> str:
    return ", ".join(f"{count} {key}" for key, count in lost) or "none"


def _read_beads(text: str) -> tuple[tuple[str, int], ...]:
    if text == "none":
        return ()
    pairs = (part.partition(" ") for part in text.split(", "))
    return tuple((key, int(count)) for count, _, key in pairs)


def _read_on_hand(at: datetime, text: str) -> OnHand:
    found = re.fullmatch(_ON_HAND, text, re.ASCII)
    if found is None:
        raise ValueError(f"no beads on hand: {text!r}")
    return OnHand(at, found[2], int(found[1]))


def _count(counted: Count, row_count: int) -> str:
    return f"{counted.beads} {counted.key} at {_place(counted.position, row_count)}"


def _read_counts(text: str, row_count: int) -> tuple[Count, ...]:
    return tuple(_read_count(part, row_count) for part in text.split(", ") if part)


def _read_count(text: str, row_count: int) -> Count:
    found = re.fullmatch(_COUNT, text, re.ASCII)
    if found is None:
        raise ValueError(f"no beads on hand: {text!r}")
    return Count(found[2], int(found[1]), _read_place(found[3], row_count))


def _goal(goal: Position | None, row_count: int) -> str:
    return "none" if goal is None else _place(goal, row_count)


def _read_goal(text: str, row_count: int) -> Position | None:
    return None if text == "none" else _read_place(text, row_count)


def _stamp_or_never(at: datetime | None) -> str:
    return "never" if at is None else stamp(at)


def _read_stamp(text: str) -> datetime | None:
    return None if text == "never" else instant(text)


def _numbers(numbers: tuple[float, ...]) -> str:
    return " ".join(f"{number:.3f}" for number in numbers) or "none"


def _read_numbers(text: str) -> tuple[float, ...]:
    if text == "none":
        return ()
    if re.fullmatch(_NUMBERS, text, re.ASCII) is None:
        raise ValueError(f"not numbers: {text!r}")
    return tuple(float(number) for number in text.split(" "))


_READERS: dict[str, Callable[[datetime, str, int], Event]] = {
    "at": lambda at, rest, row_count: Moved(at, _read_place(rest, row_count)),
    "opened": lambda at, _rest, _row_count: Opened(at),
    "closed": lambda at, _rest, _row_count: Closed(at),
    "by": lambda at, rest, _row_count: ByChanged(at, _read_by(rest)),
    "measured": lambda at, rest, _row_count: Measured(at, _read_length(rest)),
    "joined": lambda at, rest, _row_count: Joined(at, _read_length(rest)),
    "lost": lambda at, rest, _row_count: _read_lost(at, rest),
    "counted": lambda at, rest, _row_count: _read_on_hand(at, rest),
    "unpicking": lambda at, rest, row_count: Unpicking(at, _read_goal(rest, row_count)),
    "snapshot": lambda at, rest, row_count: Snapshot(at, _read_whole(rest, row_count)),
}
