"""A piece taken in hand: its lock, its journal and its progress.

One program at a time writes a piece; whoever comes second may read. The lock is the platform's
own, so it ends with the process that holds it, however that ends.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from datetime import datetime
from types import TracebackType
from typing import Self

from filelock import BaseFileLock, FileLock, Timeout

from tracker.problems import Problem, ProblemsError
from tracker.progress import journal
from tracker.progress.durable import SaveError, reason
from tracker.progress.journal import Journal
from tracker.progress.outline import Outline
from tracker.progress.piece import LOCK, PieceFolder, require_current
from tracker.progress.state import Event, Opened, Progress, apply, to_milliseconds, utc_now


class OpenPiece:
    """A piece that can be looked at and, unless it is read only, gone on with."""

    def __init__(
        self,
        folder: PieceFolder,
        outline: Outline,
        progress: Progress,
        *,
        notices: tuple[str, ...],
        opened_at: datetime,
        writing: tuple[BaseFileLock, Journal] | None,
    ) -> None:
        self.folder = folder
        self.outline = outline
        self.notices = notices
        """What the user should hear about the opening, a sentence each."""
        self._progress = progress
        self._writing = writing
        # Written with the first event: looking at a piece leaves its files alone.
        self._unsaid: Opened | None = Opened(opened_at)

    @property
    def progress(self) -> Progress:
        """The state after all that was recorded."""
        return self._progress

    @property
    def read_only(self) -> bool:
        """Whether `record` is refused."""
        return self._writing is None

    def record(self, event: Event) -> Progress:
        """Put `event` on the disk, then into the progress, which is returned.

        Raises SaveError, with progress and file as before; recording it again is allowed.
        Raises ValueError for a place that the pattern has not.
        """
        if self._writing is None:
            raise SaveError("could not save the place: the piece is open for reading only")
        # As exact as the journal is, so that what is read back is what was here.
        kept = dataclasses.replace(event, at=to_milliseconds(event.at))
        said_first = () if self._unsaid is None or isinstance(kept, Opened) else (self._unsaid,)
        progress = self._progress
        states = []  # worked out first, so that nonsense is refused before anything is written
        for said in (*said_first, kept):
            progress = apply(self.outline, progress, said)
            states.append((said, progress))
        for said, progress in states:
            self._writing[1].append(said)
            self._progress = progress
            self._unsaid = None
        return self._progress

    def close(self) -> None:
        """Let go of the piece. Closing twice does no harm."""
        if self._writing is not None:
            lock, opened_journal = self._writing
            self._writing = None
            opened_journal.close()
            lock.release(force=True)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()


def open_piece(
    folder: PieceFolder,
    outline: Outline,
    *,
    read_only: bool = False,
    clock: Callable[[], datetime] = utc_now,
) -> OpenPiece:
    """Open a piece to go on with it, or for reading only where that is all there is to have.

    Raises ProblemsError if its journal cannot be used or belongs to another pattern.
    """
    if folder.pattern_digest != outline.digest:
        problem = Problem(
            "pattern",
            "the piece belongs to another pattern",
            "open it with the pattern in its own folder",
        )
        raise ProblemsError([problem], str(folder.path))
    now = to_milliseconds(clock())
    if read_only:
        return _reading(folder, outline, now, ())
    lock = FileLock(folder.path / LOCK, thread_local=False)
    try:
        lock.acquire(blocking=False)
    except Timeout:
        notice = "the piece is open in another window: here it is for reading only"
        return _reading(folder, outline, now, (notice,))
    except (OSError, NotImplementedError) as error:
        why = reason(error) if isinstance(error, OSError) else "this disk knows no locks"
        return _reading(folder, outline, now, (f"for reading only: {why}",))
    try:
        # It may have moved to a changed pattern since its folder was read: this journal is history.
        require_current(folder)
        opened_journal, progress, notices = journal.open_for_writing(
            folder.journal_path, outline, now
        )
    except SaveError as error:
        lock.release(force=True)
        return _reading(folder, outline, now, (f"for reading only: {error}",))
    except BaseException:
        lock.release(force=True)
        raise
    return OpenPiece(
        folder,
        outline,
        progress,
        notices=notices,
        opened_at=now,
        writing=(lock, opened_journal),
    )


def _reading(
    folder: PieceFolder, outline: Outline, now: datetime, notices: tuple[str, ...]
) -> OpenPiece:
    try:
        contents = journal.read(folder.journal_path)
    except FileNotFoundError:
        progress = Progress(started=to_milliseconds(folder.started))
        notices = (*notices, "the journal is not there: the piece stands at its first step")
    else:
        progress = journal.replay(folder.journal_path, contents, outline)
        if contents.torn:
            notices = (*notices, "the last line is not written to its end: it is left out here")
    return OpenPiece(folder, outline, progress, notices=notices, opened_at=now, writing=None)
