"""Pieces put in order: renamed, set aside, finished, taken up and made again. Nothing is removed.

Each change is one whole `piece.toml` in the place of the old one; the folder keeps its name.
"""

from __future__ import annotations

import os
from datetime import datetime
from pathlib import Path

from tracker.files import read_text
from tracker.pattern.reader import LARGEST, parse_pattern
from tracker.problems import ProblemsError
from tracker.progress import journal
from tracker.progress.piece import PieceFolder, Shelf, change_about, fault_of_name, on_shelf
from tracker.progress.store import Store


def checked_name(store: Store, folder: PieceFolder, name: str) -> str:
    """The name without blanks round it; a ValueError says why the piece cannot be called so."""
    name = name.strip()
    fault = fault_of_name(name)
    if fault:
        raise ValueError(fault)
    for path, other in store.names().items():
        if path != folder.path and other.casefold() == name.casefold():
            raise ValueError(f"another piece is called {other} already")
    return name


def rename(store: Store, folder: PieceFolder, name: str) -> PieceFolder:
    """Call the piece by another name.

    Raises ValueError for a name that it cannot have, ProblemsError for a broken piece, SaveError
    with the piece as it was.
    """
    return change_about(folder.path, {"name": checked_name(store, folder, name)})


def put(folder: PieceFolder, shelf: Shelf, now: datetime) -> PieceFolder:
    """Put the piece on a shelf, or take it in hand again. Raises ProblemsError, SaveError."""
    # What was stitched by a clock that was ahead was stitched before this all the same.
    return change_about(folder.path, on_shelf(shelf, max(now, _last_stitched(folder) or now)))


def _last_stitched(folder: PieceFolder) -> datetime | None:
    try:
        contents = journal.read(folder.journal_path)
        return journal.last_place(folder.journal_path, contents, folder.rows)[1]
    except (FileNotFoundError, ProblemsError):  # whoever opens the piece is told
        return None


def make_again(store: Store, folder: PieceFolder) -> PieceFolder:
    """Start a new piece of the same pattern, from its first step, under the pattern's own name.

    Raises ProblemsError, or SaveError with nothing left behind.
    """
    file = os.fspath(folder.pattern_path)
    try:
        text = read_text(file, LARGEST)
        pattern = parse_pattern(text)
    except ProblemsError as error:
        raise error.in_file(file) from None
    return store.start(
        text.encode(),
        name=pattern.name,
        digest=pattern.digest,
        design_digest=pattern.design,
        rows=pattern.row_count,
        source=Path(folder.source),
    )
