"""What a crash left half written is swept away, and nothing else."""

from __future__ import annotations

import contextlib
import os
import re
import stat
from collections.abc import Iterator
from pathlib import Path

from tracker.progress.locking import Lock, TakenError
from tracker.progress.piece import ABOUT, DESIGN, JOURNAL, LOCK, PATTERN

PREFIX = ".new-"
OLD = 86_400.0
"""Younger ones may be in the making: seconds since anything in them was written."""
_NAME = re.compile(re.escape(PREFIX) + r"[a-z0-9_]{8}")
_FILES = {ABOUT, DESIGN, JOURNAL, PATTERN, LOCK}
_HALF = re.compile(r"\.(piece|pattern|journal|design)(-\d{1,9})?(\.before)?\.toml\.[a-z0-9_]{8}")
"""Files that were to replace others, as `durable.replace` calls them."""


def sweep(pieces: Path, now: float) -> None:
    """Remove what was left half made under `pieces`; `now` in seconds since 1970."""
    with contextlib.suppress(OSError):
        for path in sorted(pieces.iterdir()):
            if _NAME.fullmatch(path.name):
                with contextlib.suppress(OSError, TakenError):
                    _sweep(path, now)


def sweep_piece(folder: Path, now: float) -> None:
    """Remove files that were to replace others in a piece's folder; the caller holds its lock."""
    with contextlib.suppress(OSError):
        for file in sorted(folder.iterdir()):
            found = file.lstat()
            if _HALF.fullmatch(file.name) and stat.S_ISREG(found.st_mode) and _is_left(found, now):
                file.unlink()


def _is_left(found: os.stat_result, now: float) -> bool:
    """Whether it is this user's, and older than anything in the making."""
    user = os.getuid() if hasattr(os, "getuid") else found.st_uid
    return found.st_uid == user and now - found.st_mtime >= OLD


@contextlib.contextmanager
def making(made: Path) -> Iterator[None]:
    """Lock a folder while a piece is made in it, where the disk knows locks."""
    lock = None
    with contextlib.suppress(OSError, TakenError):
        lock = Lock(made / LOCK)
    try:
        yield
    finally:
        if lock is not None:
            lock.release()
        with contextlib.suppress(OSError):  # the piece gets one when it is first taken up
            (made / LOCK).unlink()


def _sweep(path: Path, now: float) -> None:
    """Remove the folder if it is ours, old, locked by nobody, and holds only what we put there."""
    found = [path.lstat()]
    if not stat.S_ISDIR(found[0].st_mode):
        return
    files = sorted(path.iterdir())
    for file in files:
        found.append(file.lstat())
        known = file.name in _FILES or _HALF.fullmatch(file.name)
        if not known or not stat.S_ISREG(found[-1].st_mode):
            return
    if not all(_is_left(each, now) for each in found):
        return
    with Lock(path / LOCK):
        for file in files:
            if file.name != LOCK:
                file.unlink()
    with contextlib.suppress(FileNotFoundError):  # some platforms take it away with the lock
        (path / LOCK).unlink()
    path.rmdir()
