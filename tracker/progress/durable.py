"""Writing that is on the disk when the call returns, or has not happened."""

from __future__ import annotations

import contextlib
import errno
import os
import tempfile
from pathlib import Path

from tracker.problems import shown

_REASONS = {
    errno.ENOSPC: "the disk is full",
    errno.EIO: "the disk reported a fault",
    errno.EROFS: "this disk may only be read",
    errno.EACCES: "the permission is missing",
    errno.EPERM: "the permission is missing",
    errno.ENOENT: "the file or its folder is gone",
    errno.ESTALE: "the network drive has gone",
}
if hasattr(errno, "EDQUOT"):  # no quotas on some platforms
    _REASONS[errno.EDQUOT] = "your share of the disk is used up"


class SaveError(Exception):
    """Something could not be saved, and nothing of it was; the message says why, in words."""


def reason(error: OSError) -> str:
    """Why the system refused, in words."""
    number = error.errno or 0
    return _REASONS.get(number) or shown(error.strerror or os.strerror(number)).lower()


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
