"""A journal open for writing: a line at a time, and only behind what was written here before."""

from __future__ import annotations

import contextlib
import os
from pathlib import Path
from typing import Self

from tracker.problems import ProblemsError
from tracker.progress import chain, durable, words
from tracker.progress.chain import Mark
from tracker.progress.durable import SaveError, saving
from tracker.progress.state import Event
from tracker.records import record

_FLAGS = os.O_RDWR | os.O_APPEND | getattr(os, "O_BINARY", 0)
_CHECK = b' ~%08x"\n'


class GoneError(SaveError):
    """The journal, or the folder that it lay in, is not where it was."""


class PartedError(SaveError):
    """Another program changed the journal: nothing of what happens here belongs behind that."""


@record(frozen=False)
class Journal:
    """A journal open for writing. What `append` returns from is on the disk."""

    path: Path
    row_count: int
    _fd: int
    _mark: Mark
    _half: bytes = b""
    """A line whose writing failed: the beginning of it may still stand behind the mark."""

    @classmethod
    def opened(cls, path: Path, row_count: int, mark: Mark) -> Self:
        """The journal at `path`, good up to `mark`. Raises OSError."""
        return cls(path, row_count, os.open(path, _FLAGS), mark)

    def append(self, event: Event) -> None:
        """Write one event. Raises SaveError with nothing written; trying again is allowed.

        GoneError and PartedError say that the file is not there, or not ours to go on with.
        """
        data, mark = chain.line(self._mark, words.written(event, self.row_count))
        with saving("save the place"):
            self._require_untouched()
            try:
                self._half = data
                durable.write_all(self._fd, data)
                durable.sync(self._fd)
                self._mark, self._half = mark, b""
            except BaseException:
                with contextlib.suppress(OSError):  # the next append tries again
                    self._take_back()
                raise

    def close(self) -> None:
        """Let go of the file."""
        if self._fd >= 0:
            fd, self._fd = self._fd, -1
            with contextlib.suppress(OSError):  # every line was synced when it was written
                os.close(fd)

    def _require_untouched(self) -> None:
        """See that the file is as it was left here. Raises SaveError, OSError."""
        try:
            named = self.path.stat()
        except (FileNotFoundError, NotADirectoryError) as error:
            what = "the piece's file or its folder is gone"
            mend = "put it back where it was"
            raise GoneError(f"could not save the place: {what}", why=what, mend=mend) from error
        ours = os.fstat(self._fd)
        if (ours.st_dev, ours.st_ino) != (named.st_dev, named.st_ino):
            self._take_instead()
            return
        # The size tells of lines that came or went, the last check of any that were changed.
        extra = ours.st_size - self._mark.length
        if not 0 <= extra <= len(self._half) or not self._is_ours(extra):
            raise _parted()
        if extra:
            self._take_back()

    def _is_ours(self, extra: int) -> bool:
        """Whether the file ends with our last line and `extra` bytes of the one that failed."""
        wanted = _CHECK % self._mark.crc + self._half[:extra]
        os.lseek(self._fd, self._mark.length + extra - len(wanted), os.SEEK_SET)
        return os.read(self._fd, len(wanted)) == wanted

    def _take_instead(self) -> None:
        """Go on in the file that came in the place of ours, if it says the very same.

        A drive that was taken off and put back, or a copy that a program put there.
        """
        fd = os.open(self.path, _FLAGS)
        try:
            with os.fdopen(os.dup(fd), "rb") as file:
                contents = chain.scan(file.read(), "")
        except ProblemsError:
            os.close(fd)
            raise _parted() from None
        except BaseException:
            os.close(fd)
            raise
        # The last check covers everything before it, the pattern's digest too.
        if contents.mark != self._mark or contents.torn:
            os.close(fd)
            raise _parted()
        old, self._fd, self._half = self._fd, fd, b""
        with contextlib.suppress(OSError):
            os.close(old)

    def _take_back(self) -> None:
        """Cut off what a failed write left. Raises OSError."""
        os.ftruncate(self._fd, self._mark.length)
        durable.sync(self._fd)
        self._half = b""


def _parted() -> PartedError:
    what = "another program changed the journal meanwhile"
    return PartedError(f"could not save the place: {what}", why=what)
