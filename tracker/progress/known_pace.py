"""How fast this beader stitches, by the pieces in hand."""

from __future__ import annotations

from tracker.files import read_text
from tracker.pattern.reader import LARGEST, parse_pattern
from tracker.problems import ProblemsError
from tracker.progress.opened import open_piece
from tracker.progress.store import Store

MOST_READ = 3
"""So many of the pieces stitched last are asked."""


def seconds_a_step(store: Store) -> float | None:
    """The pace of the piece stitched last that has one, a step; None if there is none."""
    try:
        pieces = [listed for listed in store.pieces() if listed.last_stitched is not None]
    except ProblemsError:
        return None
    for listed in pieces[:MOST_READ]:
        if listed.folder is None or listed.problem is not None:
            continue
        try:
            pattern = parse_pattern(read_text(listed.folder.pattern_path, LARGEST))
            with open_piece(listed.folder, pattern, read_only=True) as piece:
                row = piece.progress.seconds_a_row
        except ProblemsError:
            continue  # a broken piece says so at the bench
        if row is not None:
            steps = sum(map(pattern.steps_in, range(pattern.row_count)))
            return row * pattern.row_count / steps
    return None
