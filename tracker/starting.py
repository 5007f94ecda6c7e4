"""A piece taken in hand from whatever the beader named: found again, or started."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path

from tracker.loading import Loaded, load, load_design
from tracker.pattern.model import Pattern
from tracker.problems import Problem, ProblemsError
from tracker.progress.durable import SaveError
from tracker.progress.opened import OpenPiece, open_piece
from tracker.progress.store import Store


@dataclass(frozen=True, slots=True, kw_only=True)
class InHand:
    """An opened piece with its pattern."""

    pattern: Pattern
    piece: OpenPiece
    notices: tuple[str, ...]
    """What the beader should hear first, a sentence each."""


def take_up(word: str, store: Store) -> InHand:
    """Open the piece that `word` means, starting one if there is none.

    Raises ProblemsError that names the file.
    """
    return take_up_loaded(load(word, store), store)


def take_up_design(path: Path, store: Store) -> InHand:
    """Open the piece of a design as it stands in its file now, starting one if there is none.

    Raises ProblemsError that names the file.
    """
    return take_up_loaded(load_design(path, store), store)


def take_up_loaded(loaded: Loaded, store: Store) -> InHand:
    """Open the piece of a loaded pattern, starting one if there is none."""
    pattern, folder = loaded.pattern, loaded.piece
    if folder is None:
        try:
            folder = store.start(
                loaded.text.encode(),
                name=pattern.name,
                digest=pattern.digest,
                design_digest=pattern.design,
                rows=pattern.row_count,
                source=loaded.source,
            )
        except SaveError as error:
            mend = "make room, or set TRACKER_HOME to a folder that can be written"
            problem = Problem("the piece", str(error), mend)
            raise ProblemsError([problem], os.fspath(loaded.source)) from None
    piece = open_piece(folder, pattern)
    return InHand(pattern=pattern, piece=piece, notices=(*loaded.notices, *piece.notices))
