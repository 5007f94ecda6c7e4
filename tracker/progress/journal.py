"""The journal of a piece: all that happened to it, a line each, on the disk before it shows.

Reading never changes a file. Only `open_for_writing` cuts off a torn tail (and keeps it) and
shortens a journal that has grown long; a damaged journal is left as it is.
"""

from __future__ import annotations

import contextlib
import itertools
import os
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from tracker.files import read_bytes
from tracker.problems import Problem, ProblemsError
from tracker.progress import chain, durable, words
from tracker.progress.appending import Journal
from tracker.progress.chain import Contents, Mark
from tracker.progress.durable import reason, saving
from tracker.progress.outline import Outline
from tracker.progress.position import START, Position
from tracker.progress.state import Event, Moved, Progress, Snapshot, apply

LINES_KEPT = 2000
"""A longer journal is shortened to a snapshot when it is opened for writing."""
LARGEST = 64_000_000
"""No journal is larger, bytes: a million presses in one sitting."""
_TAIL = 4096


def begun(pattern: str, at: datetime) -> tuple[bytes, Mark]:
    """A new journal, bound to the digest `pattern`."""
    head, mark = chain.header(pattern)
    first, mark = chain.line(mark, f"{words.stamp(at)} started")
    return head + first, mark


def whole(pattern: str, progress: Progress, row_count: int, at: datetime) -> tuple[bytes, Mark]:
    """A new journal, bound to the digest `pattern`, that begins with all of `progress`."""
    head, mark = begun(pattern, progress.started)
    data, mark = chain.line(mark, words.written(Snapshot(at, progress), row_count))
    return head + data, mark


def before(path: Path) -> Path:
    """Where a journal is kept as it was before it was shortened."""
    return path.with_suffix(".before.toml")


def read(path: Path) -> Contents:
    """What the journal says. Raises FileNotFoundError, or ProblemsError if it cannot be used."""
    try:
        data = read_bytes(path, LARGEST)
    except ProblemsError as error:
        raise error.in_file(str(path)) from None
    return scanned(path, data)


def scanned(path: Path, data: bytes) -> Contents:
    """What `data`, read from the journal at `path`, says. Raises ProblemsError."""
    try:
        return chain.scan(data, _way_back(path))
    except ProblemsError as error:
        raise error.in_file(str(path)) from None


def require_bound(path: Path, contents: Contents, pattern: str) -> None:
    """Refuse a journal that is not bound to the digest `pattern`. Raises ProblemsError."""
    if contents.pattern != pattern:
        problem = Problem("pattern", "the journal belongs to another pattern", _way_back(path))
        raise ProblemsError([problem], str(path))


def replay(path: Path, contents: Contents, outline: Outline) -> Progress:
    """The progress after all that the journal tells. Raises ProblemsError."""
    require_bound(path, contents, outline.digest)
    progress = Progress(started=_started(path, contents))
    for number in range(1, len(contents.texts)):
        event = _event(path, contents, number, outline.row_count)
        try:
            progress = apply(outline, progress, event)
        except ValueError as error:
            text = contents.texts[number]
            raise chain.not_understood(number, text, _way_back(path)).in_file(str(path)) from error
    return progress


def last_place(path: Path, contents: Contents, row_count: int) -> tuple[Position, datetime | None]:
    """Where the piece stands and when it last moved, without its pattern. Raises ProblemsError."""
    for number in range(len(contents.texts) - 1, 0, -1):
        match _event(path, contents, number, row_count):
            case Moved(at, position):
                return position, at
            case Snapshot(_, progress):
                return progress.position, progress.last_stitched
            case _:
                continue
    return START, None


def last_place_unchecked(path: Path, row_count: int) -> tuple[Position, datetime] | None:
    """Where the piece stands by the end of a long journal; None where only all of it tells.

    For a list of many pieces: whoever opens one has it checked from the beginning.
    """
    try:
        with path.open("rb") as file:
            if file.seek(0, os.SEEK_END) <= _TAIL:
                return None
            file.seek(-_TAIL, os.SEEK_END)
            tail = file.read(_TAIL)
        for text in chain.last_texts(tail):
            match words.read(text, row_count):
                case Moved(at, position):
                    return position, at
                case Snapshot():
                    return None
    except (OSError, ValueError):  # reading all of it finds out what is wrong
        pass
    return None


def open_for_writing(
    path: Path, outline: Outline, now: datetime, before_shortening: Callable[[], None]
) -> tuple[Journal, Progress, tuple[str, ...]]:
    """Open a journal to go on with it; also its progress, and notices of what had to be mended.

    The caller holds the piece's lock. `before_shortening` is called if the journal is to be
    shortened. Raises ProblemsError if it cannot be used (the file is left as it is), SaveError if
    what is needed cannot be written.
    """
    notices: list[str] = []
    try:
        contents = read(path)
    except FileNotFoundError:
        with saving("begin a journal"):
            durable.create(path, begun(outline.digest, now)[0])
        notices.append("the journal was not there: the piece begins at its first step")
        contents = read(path)
    progress = replay(path, contents, outline)
    if contents.torn:
        notices.append(_cut(path, contents))
    mark = contents.mark
    if len(contents.texts) > LINES_KEPT:
        try:
            before_shortening()
            mark = _shorten(path, outline, progress, now)
        except OSError as error:
            notices.append(f"the journal could not be shortened: {reason(error)}")
            mark = read(path).mark
    with saving("open the journal"):
        opened = Journal.opened(path, outline.row_count, mark)
    return opened, progress, tuple(notices)


def begin_beside(path: Path, outline: Outline, progress: Progress, at: datetime) -> Journal:
    """A journal of its own beside the one at `path`, begun with all of `progress`, to go on in.

    For what may not be mixed with what another program did to that one. Raises SaveError.
    """
    data, mark = whole(outline.digest, progress, outline.row_count, at)
    with saving("save the place beside the journal"):
        beside = keep(path, "other-{}.toml", data)
        return Journal.opened(beside, outline.row_count, mark)


def keep(path: Path, ending: str, data: bytes) -> Path:
    """Write `data` to a new file beside the journal; its ending gets a number. Raises OSError."""
    for number in itertools.count(1):
        kept = path.with_suffix(f".{ending.format(number)}")
        with contextlib.suppress(FileExistsError):
            durable.create(kept, data)
            break
    return kept


def _cut(path: Path, contents: Contents) -> str:
    """Keep a torn tail aside, then take it off the journal. Raises SaveError."""
    with saving("take off the line that was not written to its end"):
        kept = keep(path, "torn-{}", contents.torn)
        fd = os.open(path, os.O_WRONLY | getattr(os, "O_BINARY", 0))
        try:
            os.ftruncate(fd, contents.mark.length)
            durable.sync(fd)
        finally:
            os.close(fd)
    return f"the last line was not written to its end and was taken off; it is kept in {kept.name}"


def _shorten(path: Path, outline: Outline, progress: Progress, now: datetime) -> Mark:
    """Put a journal with one snapshot in place of a long one, which is kept. Raises OSError."""
    data, mark = whole(outline.digest, progress, outline.row_count, now)
    # A copy, not a rename: at no instant may the piece be without its journal.
    durable.replace(before(path), path.read_bytes())
    durable.replace(path, data)
    return mark


def _started(path: Path, contents: Contents) -> datetime:
    """When the journal was begun: its line 0."""
    text = contents.texts[0]
    time, _, word = text.partition(" ")
    try:
        if word == "started":
            return words.instant(time)
    except ValueError:
        pass
    raise chain.not_understood(0, text, _way_back(path)).in_file(str(path))


def _event(path: Path, contents: Contents, number: int, row_count: int) -> Event:
    text = contents.texts[number]
    try:
        return words.read(text, row_count)
    except words.UnknownWordError as error:
        raise chain.unknown_word(number, str(error)).in_file(str(path)) from error
    except ValueError as error:
        raise chain.not_understood(number, text, _way_back(path)).in_file(str(path)) from error


def _way_back(path: Path) -> str:
    begin = f"move {path.name} away to start again from the pattern's first step"
    older = before(path)
    if older.exists():
        return f"put the older {older.name} in its place, or {begin}"
    return begin
