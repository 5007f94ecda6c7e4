"""A program that stitches as fast as the disk lets it, and says what is safe; to be killed.

Its arguments: the data folder, and how far it is already. After each event is acknowledged it
writes the number of steps done so far, one a line, to standard output.
"""

import os
import sys
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from tracker.progress.opened import open_piece
from tracker.progress.position import START, Position, forward
from tracker.progress.state import Moved
from tracker.progress.store import Store

DIGEST = "sha256:" + "0f" * 32
EVENING = datetime(2026, 11, 25, 19, 0, tzinfo=UTC)


@dataclass(frozen=True)
class Long:
    """A pattern too long to finish: rows of two and three steps in turn."""

    digest: str = DIGEST
    name: str = "Long"
    row_count: int = 400_000

    def steps_in(self, row: int) -> int:
        """Steps in a row."""
        return 2 + row % 2


LONG = Long()


def begin(home: Path) -> None:
    """Start the piece."""
    Store(home).start(
        b"long\n",
        name="Long",
        digest=DIGEST,
        design_digest="sha256:00",
        rows=LONG.row_count,
        source=home / "long.toml",
    )


def steps_before(position: Position) -> int:
    """How many steps lie before a place, counted without walking."""
    pairs, odd = divmod(position.row, 2)
    return pairs * 5 + odd * 2 + position.step


def main() -> None:
    """Record moves until killed."""
    (listed,) = Store(Path(sys.argv[1])).pieces()
    assert listed.folder is not None
    with open_piece(listed.folder, LONG) as piece:
        assert not piece.read_only, piece.notices
        place = piece.progress.position
        done = steps_before(place)
        while True:
            place = forward(LONG, place, "step") if done else forward(LONG, START, "step")
            done += 1
            piece.record(Moved(EVENING + timedelta(seconds=20 * done), place))
            assert not piece.unsaved.events, piece.unsaved.words()
            os.write(1, b"%d\n" % done)


if __name__ == "__main__":
    main()
