"""One writer at a time: the platform's own file lock, released even by kill -9.

Where there is `flock` it is taken as it is: to import the library that knows the locks of every
platform would be a tenth of what a piece takes to open.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Self


class TakenError(Exception):
    """Somebody else holds the lock."""


class Lock:
    """The lock of a file, held until it is released.

    Raises TakenError, or OSError where none is to be had.
    """

    def __init__(self, path: Path) -> None:
        self._let_go: Callable[[], None] | None = _take(path)

    def release(self) -> None:
        """Let go of it; once is enough."""
        let_go, self._let_go = self._let_go, None
        if let_go is not None:
            let_go()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.release()


if sys.platform == "win32":
    from filelock import FileLock, Timeout

    def _take(path: Path) -> Callable[[], None]:
        lock = FileLock(path, thread_local=False)
        try:
            lock.acquire(blocking=False)
        except Timeout:
            raise TakenError from None
        return lambda: lock.release(force=True)

else:
    import fcntl

    def _take(path: Path) -> Callable[[], None]:
        # No link is followed, and no pipe of that name waited for.
        flags = os.O_RDWR | os.O_CREAT | os.O_NOFOLLOW | os.O_NONBLOCK
        file = os.open(path, flags, 0o644)
        try:
            _flock(file)
        except BaseException:
            os.close(file)
            raise
        return lambda: os.close(file)

    def _flock(file: int) -> None:
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except (BlockingIOError, PermissionError):  # some disks say that instead
            raise TakenError from None
        if os.fstat(file).st_nlink == 0:  # whoever held it has just taken the file away
            raise TakenError
