"""Writing that is on the disk when the call returns, or has not happened."""

from __future__ import annotations

import contextlib
import errno
import os
import tempfile
from collections.abc import Iterator
from pathlib import Path

from tracker.problems import shown

_CAUSES = {
    errno.ENOSPC: ("the disk is full", "free some space"),
    errno.EFBIG: ("the file may not grow any further", "lift the limit on the size of files"),
    errno.EIO: ("the disk reported a fault", "see to the disk, and copy your pieces to another"),
    errno.EROFS: ("this disk may only be read", "make it writable again"),
    errno.EACCES: ("the permission is missing", "give the folder's permission back"),
    errno.EPERM: ("the permission is missing", "give the folder's permission back"),
    errno.ENOENT: ("the file or its folder is gone", "put it back where it was"),
    errno.ENOTDIR: ("the file or its folder is gone", "put it back where it was"),
    errno.ESTALE: ("the network drive has gone", "connect it again"),
    errno.ENOSYS: ("this disk knows no locks", "keep your pieces on another"),
    errno.ENOLCK: ("this disk knows no locks", "keep your pieces on another"),
}
if hasattr(errno, "EDQUOT"):  # no quotas on some platforms
    _CAUSES[errno.EDQUOT] = ("your share of the disk is used up", "delete what you can do without")


class SaveError(Exception):
    """Something could not be saved, and nothing of it was; the message says why, in words.

    `why` is the reason alone and `mend` what may help, "" where there is nothing to be said.
    """

    def __init__(self, message: str, *, why: str = "", mend: str = "") -> None:
        super().__init__(message)
        self.why = why or message
        self.mend = mend


def reason(error: OSError) -> str:
    """Why the system refused, in words."""
    number = error.errno or 0
    if number in _CAUSES:
        return _CAUSES[number][0]
    return shown(error.strerror or os.strerror(number)).lower()


@contextlib.contextmanager
def saving(what: str) -> Iterator[None]:
    """Turn the system's refusal into a SaveError that says what could not be done."""
    try:
        yield
    except OSError as error:
        why = reason(error)
        mend = _CAUSES.get(error.errno or 0, ("", ""))[1]
        raise SaveError(f"could not {what}: {why}", why=why, mend=mend) from error


def write_all(fd: int, data: bytes) -> None:
    """Write every byte of `data`, going on after a short write. Raises OSError."""
    rest = memoryview(data)
    while rest:
        written = os.write(fd, rest)
        if written <= 0:
            raise OSError(errno.EIO, os.strerror(errno.EIO))
        rest = rest[written:]


def sync(fd: int) -> None:
    """Wait until the file's data, and its length, are on the disk. Raises OSError."""
    getattr(os, "fdatasync", os.fsync)(fd)


def sync_folder(folder: Path) -> None:
    """Wait until the names in `folder` are on the disk, where the platform can. Raises OSError."""
    if os.name == "nt":  # a folder cannot be opened there
        return
    fd = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(fd)
    finally:
        os.close(fd)


def create(path: Path, data: bytes) -> None:
    """Write a new file; FileExistsError when there is one. Raises OSError, leaving no file."""
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
    fd = os.open(path, flags, 0o600)
    try:
        _fill(fd, data)
    except BaseException:
        with contextlib.suppress(OSError):
            path.unlink()
        raise
    sync_folder(path.parent)


def replace(path: Path, data: bytes, mode: int = 0o600) -> None:
    """Put `data` in the place of `path` in one go. Raises OSError, the old file then stays.

    `mode` says who may read and write it; a file to be handed on is for everybody to read.
    """
    fd, name = tempfile.mkstemp(prefix=f".{path.name}.", dir=path.parent)
    new = Path(name)
    try:
        new.chmod(mode)
        _fill(fd, data)
        new.replace(path)
    except BaseException:
        with contextlib.suppress(OSError):
            new.unlink()
        raise
    sync_folder(path.parent)


def _fill(fd: int, data: bytes) -> None:
    """Write, wait for the disk and close."""
    try:
        write_all(fd, data)
        os.fsync(fd)
    finally:
        os.close(fd)
