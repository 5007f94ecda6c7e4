"""Journals that lie beside a piece's own: from another machine, or from here when both changed.

A program that keeps folders alike on several machines puts such a copy there under a name of its
own making, so any name that is none of ours counts. Nothing here is ever removed: what is taken in
hand goes in the place of the journal, and what was there is kept under another name.
"""

from __future__ import annotations

import contextlib
import os
import re
from collections.abc import Iterator
from pathlib import Path

from tracker.problems import Problem, ProblemsError, shown
from tracker.progress import durable, journal
from tracker.progress.durable import SaveError, saving
from tracker.progress.locking import Lock, TakenError
from tracker.progress.outline import Outline
from tracker.progress.piece import LOCK, PieceFolder, require_current
from tracker.progress.state import Progress
from tracker.records import record

LARGEST = 12_000_000
"""No journal is larger, bytes."""
_OURS = re.compile(r"journal(-\d{1,9})?(\.before|\.kept-\d{1,9})?\.toml")
_CANDIDATE = re.compile(r"journal.*\.toml", re.DOTALL | re.IGNORECASE)


@record(kw_only=True)
class Other:
    """A journal beside the piece's own that tells of something else."""

    path: Path
    progress: Progress | None = None
    """How far it got; None for one that cannot be used."""
    goes_on: bool = False
    """Whether it begins with all that the piece's own journal says."""
    why: str = ""
    """Why it cannot be used."""


def strangers(folder: Path) -> frozenset[str]:
    """Names in the folder that may be journals and are none of ours. Raises OSError."""
    with os.scandir(folder) as entries:
        return frozenset(
            entry.name
            for entry in entries
            if _CANDIDATE.fullmatch(entry.name)
            and not _OURS.fullmatch(entry.name)
            and entry.is_file(follow_symlinks=False)
        )


def find_others(folder: PieceFolder, outline: Outline) -> tuple[Other, ...]:
    """The other journals of a piece; one that says nothing new is left out."""
    try:
        names = sorted(strangers(folder.path))
        ours = folder.journal_path.read_bytes() if names else b""
    except OSError:  # whoever opens the piece is told
        return ()
    return tuple(_others(folder, names, ours, outline))


def _others(
    folder: PieceFolder, names: list[str], ours: bytes, outline: Outline
) -> Iterator[Other]:
    for name in names:
        path = folder.path / name
        try:
            data = _read(path)
            contents = journal.scanned(path, data)
            progress = journal.replay(path, contents, outline)
        except ProblemsError as error:
            yield Other(path=path, why="; ".join(problem.what for problem in error.problems))
            continue
        good = data[: contents.mark.length]
        if not ours.startswith(good):
            yield Other(path=path, progress=progress, goes_on=good.startswith(ours))


def put_known_by(folder: PieceFolder, *, but: str = "") -> None:
    """Put by each other journal that says nothing new, `but` not. Raises OSError.

    Once the piece's own is shortened, or another in its place, such a one would seem to tell of
    something else.
    """
    names = sorted(strangers(folder.path) - {but})
    ours = folder.journal_path.read_bytes() if names else b""
    for name in names:
        with contextlib.suppress(ProblemsError):  # one that cannot be used is told at the opening
            path = folder.path / name
            data = _read(path)
            if ours.startswith(data[: journal.scanned(path, data).mark.length]):
                _put_by(folder, path)


def take(folder: PieceFolder, outline: Outline, other: Other) -> None:
    """Put the other journal in the place of the piece's own, which is kept beside it.

    The piece must not be open anywhere. Raises SaveError or ProblemsError, the journal then is as
    it was.
    """
    try:
        lock = Lock(folder.path / LOCK)
    except TakenError:
        raise SaveError("could not take the other journal: the piece is open elsewhere") from None
    except OSError as error:
        why = durable.reason(error)
        raise SaveError(f"could not take the other journal: {why}") from error
    try:
        require_current(folder)
        data = _read(other.path)
        contents = journal.scanned(other.path, data)
        journal.replay(other.path, contents, outline)
        with saving("take the other journal"):
            put_known_by(folder, but=other.path.name)
            # A copy, not a rename: at no instant may the piece be without its journal.
            journal.keep(folder.journal_path, "kept-{}.toml", folder.journal_path.read_bytes())
            durable.replace(folder.journal_path, data[: contents.mark.length])
            _put_by(folder, other.path)
    finally:
        lock.release()


def put_by(folder: PieceFolder, other: Other) -> None:
    """Keep the other journal under a name that is asked about no more. Raises SaveError."""
    with saving("put the other journal by"):
        _put_by(folder, other.path)


def _put_by(folder: PieceFolder, path: Path) -> None:
    # First a copy under a free name, then the old name goes: no instant without it.
    journal.keep(folder.journal_path, "kept-{}.toml", path.read_bytes())
    path.unlink()
    durable.sync_folder(folder.path)


def _read(path: Path) -> bytes:
    try:
        if path.stat().st_size > LARGEST:
            problem = Problem("the file", "is too large for a journal", "leave it alone")
            raise ProblemsError([problem], str(path))
        return path.read_bytes()
    except OSError as error:
        problem = Problem("the file", f"cannot be read: {durable.reason(error)}", "leave it alone")
        raise ProblemsError([problem], str(path)) from error


def unusable_words(other: Other) -> str:
    """The notice of a journal that cannot be used."""
    name = shown(other.path.name)
    return f"another journal, {name}, lies beside the piece's own and cannot be used: {other.why}"
