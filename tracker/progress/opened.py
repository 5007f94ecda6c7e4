"""A piece taken in hand: its lock, its journal and its progress.

One program at a time writes a piece; whoever comes second may read. The lock is the platform's
own, so it ends with the process that holds it, however that ends.
"""

from __future__ import annotations

import contextlib
import dataclasses
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from types import TracebackType
from typing import Self

from tracker.problems import Problem, ProblemsError
from tracker.progress import journal
from tracker.progress.appending import Journal, PartedError
from tracker.progress.durable import SaveError, reason
from tracker.progress.locking import Lock, TakenError
from tracker.progress.others import (
    Other,
    find_others,
    put_known_by,
    strangers,
    unusable_words,
)
from tracker.progress.outline import Outline
from tracker.progress.piece import (
    LOCK,
    PieceFolder,
    change_about_locked,
    on_shelf,
    read_about,
    require_current,
)
from tracker.progress.state import Event, Moved, Opened, Progress, apply, to_milliseconds, utc_now
from tracker.progress.sweeping import sweep_piece
from tracker.progress.unsaved import Unsaved, first_saved, happened, refused

MOST_AT_ONCE = 200
"""So many events are caught up with at one go: each waits for the disk."""


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
        writing: tuple[Lock, Journal] | None,
        others: tuple[Other, ...] = (),
    ) -> None:
        self.folder = folder
        self.outline = outline
        self.notices = notices
        """What the user should hear about the opening, a sentence each."""
        self.others = others
        """Other journals of the piece, to choose from."""
        self.beside: Path | None = None
        """Where events go since another program changed the journal; None while none did."""
        self.unsaved = Unsaved(stands=progress.position)
        """What is not on the disk."""
        self._progress = self._saved = progress
        self._writing = writing
        self._round = _Round(folder.path)
        self._history = False
        # Written with the first event: looking at a piece leaves its files alone.
        self._unsaid: tuple[Opened, ...] = (Opened(opened_at),)

    @property
    def progress(self) -> Progress:
        """The state after all that was recorded, on the disk or not."""
        return self._progress

    @property
    def read_only(self) -> bool:
        """Whether `record` is refused."""
        return self._writing is None

    @property
    def new_strangers(self) -> frozenset[str]:
        """Files that came while the piece is open, and that may be other journals of it."""
        return self._round.new

    def record(self, event: Event) -> Progress:
        """Put `event` into the progress, which is returned, and on the disk if that can be.

        What could not be put there is kept: `unsaved` tells, and each `record` or `save` tries
        again, oldest first. Raises SaveError if the piece is open for reading only, ValueError for
        a place that the pattern has not; with nothing changed.
        """
        if self._writing is None:
            raise SaveError("could not save the place: the piece is open for reading only")
        # As exact as the journal is, so that what is read back is what was here.
        kept = dataclasses.replace(event, at=to_milliseconds(event.at))
        said = (kept,) if isinstance(kept, Opened) else (*self._unsaid, kept)
        progress = self._progress
        for each in said:
            progress = apply(self.outline, progress, each)
        self._progress, self._unsaid = progress, ()
        self.unsaved = happened(self.unsaved, *said)
        self.save()
        return self._progress

    def save(self) -> bool:
        """Put on the disk what is not there yet; whether all is there now."""
        if self._round.look():
            self._look_whether_history()
        for event in self.unsaved.events[:MOST_AT_ONCE]:
            try:
                self._append(event)
            except SaveError as error:
                self.unsaved = refused(self.unsaved, error)
                break
            last = len(self.unsaved.events) == 1
            # With the last event on it the disk tells all that memory knows.
            self._saved = self._progress if last else apply(self.outline, self._saved, event)
            self.unsaved = first_saved(self.unsaved, self._saved.position)
            self._take_in_hand(event)
        return not self.unsaved.events

    def _append(self, event: Event) -> None:
        """Write one event, beside the journal if that is not ours any more. Raises SaveError."""
        if self._writing is None:
            raise SaveError("could not save the place: the piece is closed")
        lock, opened_journal = self._writing
        with contextlib.suppress(PartedError):
            if self.beside is not None or not self._history:
                opened_journal.append(event)
                return
        path = self.folder.journal_path
        beside = journal.begin_beside(path, self.outline, self._saved, event.at)
        opened_journal.close()
        self._writing = lock, beside
        self.beside = beside.path
        self._round.overlook(beside.path.name)
        beside.append(event)

    def _look_whether_history(self) -> None:
        """Notice that the piece has moved to a changed pattern on another machine.

        What went into this journal then would never be read again.
        """
        with contextlib.suppress(ProblemsError):  # no such file, or half of it: saving tells
            self._history = read_about(self.folder.path).moved != self.folder.moved

    def _take_in_hand(self, event: Event) -> None:
        """Take a piece off its shelf that was put there by a clock that was ahead of this one."""
        shelved = self.folder.shelved
        if shelved is None or not isinstance(event, Moved) or event.at > shelved.at:
            return
        with contextlib.suppress(SaveError, ProblemsError):  # the bench only shows it elsewhere
            self.folder = change_about_locked(
                self.folder.path, dict.fromkeys(on_shelf("in hand", event.at))
            )

    def forget(self) -> None:
        """Let go of the piece without another try: what is not saved is kept elsewhere."""
        self.unsaved = Unsaved(stands=self._saved.position)
        self.close()

    def close(self) -> None:
        """Let go of the piece, after a last try to save. Closing twice does no harm."""
        if self._writing is not None:
            before = -1
            while not self.save() and before != len(self.unsaved.events):
                before = len(self.unsaved.events)
            lock, opened_journal = self._writing
            self._writing = None
            opened_journal.close()
            lock.release()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()


class _Round:
    """Sees which files come into a folder. One look at its time, unless something came or went."""

    def __init__(self, folder: Path) -> None:
        self.new: frozenset[str] = frozenset()
        self._folder = folder
        self._changed = 0
        self._known: frozenset[str] | None = None
        self.look()

    def overlook(self, name: str) -> None:
        """A file that was put there by us."""
        self._known = (self._known or frozenset()) | {name}

    def look(self) -> bool:
        """Look again; whether something came or went."""
        try:
            changed = self._folder.stat().st_mtime_ns
            if changed == self._changed:
                return False
            found = strangers(self._folder)
        except OSError:  # saving finds out what is wrong
            return False
        self._known = found if self._known is None else self._known
        self.new = found - self._known
        self._changed = changed
        return True


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
    try:
        lock = Lock(folder.path / LOCK)
    except TakenError:
        notice = "the piece is open in another window: here it is for reading only"
        return _reading(folder, outline, now, (notice,))
    except OSError as error:
        return _reading(folder, outline, now, (f"for reading only: {reason(error)}",))
    try:
        # It may have moved to a changed pattern since its folder was read: this journal is history.
        require_current(folder)
        sweep_piece(folder.path, now.timestamp())
        opened_journal, progress, notices = journal.open_for_writing(
            folder.journal_path, outline, now, lambda: put_known_by(folder)
        )
    except SaveError as error:
        lock.release()
        return _reading(folder, outline, now, (f"for reading only: {error}",))
    except BaseException:
        lock.release()
        raise
    others = find_others(folder, outline)
    unusable = tuple(unusable_words(other) for other in others if other.progress is None)
    return OpenPiece(
        folder,
        outline,
        progress,
        notices=(*notices, *unusable),
        opened_at=now,
        writing=(lock, opened_journal),
        others=tuple(other for other in others if other.progress is not None),
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
