"""A piece moved to a changed pattern, on the disk: all of it or nothing, whenever it is stopped.

The new pattern and a journal bound to it are written beside the old ones, under names of their
own; then one replacement of `piece.toml` makes them the piece's. There is no half way that anybody
could see, and nothing to mend after a crash: what was written before the replacement is written
over by the next try. The old pattern and journal stay in the folder as they were.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from tracker.pattern.model import Pattern
from tracker.pattern.reader import parse_pattern, read_pattern
from tracker.problems import Problem, ProblemsError
from tracker.progress import durable, journal
from tracker.progress.durable import SaveError, reason
from tracker.progress.locking import Lock, TakenError
from tracker.progress.moving import Same, carried, compare, compare_words
from tracker.progress.piece import ABOUT, LOCK, PieceFolder, about, require_current
from tracker.progress.state import Progress, to_milliseconds, utc_now


def move_piece(
    folder: PieceFolder,
    new_pattern_text: str,
    *,
    source: Path | None = None,
    clock: Callable[[], datetime] = utc_now,
) -> PieceFolder:
    """Bind the piece to a changed pattern, its progress carried over; the folder as it now is.

    `source` is the file it now comes from, if another. The piece must not be open anywhere.
    Raises ProblemsError where what is stitched differs, or a file cannot be used: nothing is
    changed. Raises SaveError if it could not be written: the piece is then as it was or, where
    only the disk's last word is missing, moved; never between.
    """
    new = parse_pattern(new_pattern_text)
    try:
        lock = Lock(folder.path / LOCK)
    except TakenError:
        raise SaveError("could not move the piece: it is open in another window") from None
    except OSError as error:
        raise SaveError(f"could not move the piece: {reason(error)}") from error
    try:
        require_current(folder)
        if folder.pattern_digest == new.digest:
            return folder
        return _moved(folder, new, new_pattern_text, source, to_milliseconds(clock()))
    except OSError as error:
        raise SaveError(f"could not move the piece: {reason(error)}") from error
    finally:
        lock.release()


def _moved(
    folder: PieceFolder, new: Pattern, text: str, source: Path | None, now: datetime
) -> PieceFolder:
    old = read_pattern(folder.pattern_path)
    progress = _progress(folder, old)
    found = compare(old, new, progress.position)
    if not isinstance(found, Same):
        what, mend = compare_words(found, progress.position), "or start another piece with it"
        raise ProblemsError([Problem(f"row {found.row + 1}", what, mend)], str(folder.path))
    after = dataclasses.replace(
        folder,
        pattern_digest=new.digest,
        design_digest=new.design,
        rows=new.row_count,
        source=folder.source if source is None else str(source.absolute()),
        moved=folder.moved + 1,
    )
    progress = carried(old, new, progress)
    durable.replace(after.pattern_path, text.encode())
    durable.replace(after.journal_path, journal.whole(new.digest, progress, new.row_count, now)[0])
    # Before it counts, what was written must read as what was meant.
    if _progress(after, read_pattern(after.pattern_path)) != progress:
        raise SaveError("could not move the piece: the disk did not keep what was written")
    durable.replace(folder.path / ABOUT, about(after))
    return after


def _progress(folder: PieceFolder, pattern: Pattern) -> Progress:
    try:
        contents = journal.read(folder.journal_path)
    except FileNotFoundError:
        return Progress(started=to_milliseconds(folder.started))
    return journal.replay(folder.journal_path, contents, pattern)
