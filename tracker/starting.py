"""A piece taken in hand from whatever the beader named: found again, or started."""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from types import MappingProxyType

from tracker.loading import Loaded, load, load_design
from tracker.pattern.model import Pattern
from tracker.pattern.reader import parse_pattern
from tracker.problems import Problem, ProblemsError
from tracker.progress.durable import SaveError
from tracker.progress.opened import OpenPiece, open_piece
from tracker.progress.state import OnHand, utc_now
from tracker.progress.store import Store
from tracker.records import record

_NO_COUNTS: Mapping[str, int] = MappingProxyType({})


@record(kw_only=True)
class InHand:
    """An opened piece with its pattern."""

    pattern: Pattern
    text: str
    """The pattern file's text, in case the piece's folder goes."""
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


def take_up_loaded(
    loaded: Loaded, store: Store, *, on_hand: Mapping[str, int] = _NO_COUNTS
) -> InHand:
    """Open the piece of a loaded pattern, starting one if there is none.

    `on_hand` are the beads of each kind, by shape's and colour's letter, that were counted for it.
    """
    loaded = _moved_to_change(loaded)
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
    try:
        for key, beads in on_hand.items():
            piece.record(OnHand(utc_now(), key, beads))
    except SaveError as error:
        piece.close()
        mend = "make room, and count them again"
        raise ProblemsError([Problem("the beads on hand", str(error), mend)], folder.name) from None
    notices = (*loaded.notices, *piece.notices)
    return InHand(pattern=pattern, text=loaded.text, piece=piece, notices=notices)


def _moved_to_change(loaded: Loaded) -> Loaded:
    """The piece bound to its changed design, if all that is stitched is the same in it."""
    if loaded.changed is None or loaded.piece is None:
        return loaded
    from tracker.progress.moved import move_piece  # noqa: PLC0415  only where a design changed
    from tracker.progress.moving import Differs, compare, compare_words  # noqa: PLC0415

    new = parse_pattern(loaded.changed)
    with open_piece(loaded.piece, loaded.pattern, read_only=True) as piece:
        position = piece.progress.position
    found = compare(loaded.pattern, new, position)
    notices = (*loaded.notices, compare_words(found, position))
    if isinstance(found, Differs):
        return replace(loaded, notices=notices)
    try:
        folder = move_piece(loaded.piece, loaded.changed)
    except SaveError as error:
        return replace(loaded, notices=(*loaded.notices, str(error)))
    return replace(loaded, pattern=new, text=loaded.changed, piece=folder, notices=notices)
