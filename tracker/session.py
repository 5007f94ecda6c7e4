"""A piece being stitched: what every way of using the tracker does with it.

The full screen and the plain lines both drive this; they differ only in how they show a place.
Every change is on the disk before the call returns, or `keeping` says that it is not.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from tracker.keeping import Keeping
from tracker.place import Place
from tracker.progress.left import Counters
from tracker.progress.position import Position, back, forward, start_of_row
from tracker.progress.state import (
    ByChanged,
    Joined,
    Length,
    Lost,
    Measured,
    Moved,
    OnHand,
    Progress,
    Unpicking,
    utc_now,
)
from tracker.progress.stock import watched
from tracker.settings.model import Words
from tracker.starting import InHand

if TYPE_CHECKING:
    from tracker.progress.finding import Search


class Session:
    """One piece in hand. Methods that change it raise SaveError where it may only be read."""

    def __init__(
        self,
        in_hand: InHand,
        words: Words = "auto",
        *,
        rule: float = 1.0,
        clock: Callable[[], datetime] = utc_now,
    ) -> None:
        self.pattern = in_hand.pattern
        self.notices = in_hand.notices
        self.words: Words = words
        self.keeping = Keeping(in_hand, clock)
        self._counters = Counters(in_hand.pattern, rule)
        self._clock = clock
        self._counted: tuple[Progress, object, Place] | None = None
        """The last place, and what it was counted from."""

    @property
    def progress(self) -> Progress:
        """How far the piece is."""
        return self.keeping.piece.progress

    @property
    def name(self) -> str:
        """The piece's name."""
        return self.keeping.piece.folder.name

    @property
    def source(self) -> Path:
        """The file that the piece was started from."""
        return Path(self.keeping.piece.folder.source)

    @property
    def read_only(self) -> bool:
        """Whether the piece can only be looked at."""
        return self.keeping.piece.read_only

    @property
    def place(self) -> Place:
        """The place, and all that is to be shown of it."""
        progress, beside = self.progress, (self.words, self.read_only, self.alarms())
        # A key asks for it several times.
        known = self._counted
        if known is None or known[0] is not progress or known[1] != beside:
            place = Place(
                pattern=self.pattern,
                position=progress.position,
                name=self.name,
                by=progress.by,
                words=self.words,
                left=self._counters.at(progress),
                read_only=self.read_only,
                alarms=beside[-1],
                unpicking=progress.unpicking,
                watched=watched(self.pattern, progress) if progress.on_hand else (),
            )
            known = self._counted = (progress, beside, place)
        return known[2]

    # --- moving ----------------------------------------------------------------------------

    def forward(self) -> bool:
        """Go on; while work is being taken out, that is one step back. Whether the place moved."""
        progress = self.progress
        if progress.unpicking is not None:
            return self.move_to(back(self.pattern, progress.position, "step"))
        return self.move_to(forward(self.pattern, progress.position, progress.by))

    def back(self) -> bool:
        """Go back; while work is being taken out, that gives a step taken out back."""
        progress = self.progress
        if progress.unpicking is not None:
            return self.move_to(forward(self.pattern, progress.position, "step"))
        return self.move_to(back(self.pattern, progress.position, progress.by))

    def go_to_row(self, row: int) -> bool:
        """Go to the start of a row, counted from 1."""
        return self.move_to(start_of_row(self.pattern, row - 1))

    def undo_row(self) -> bool:
        """Go back to the start of this row, or of the one before."""
        return self.move_to(back(self.pattern, self.progress.position, "row"))

    def move_to(self, position: Position) -> bool:
        """Go to a place. Whether that is another one than before."""
        if position == self.progress.position:
            return False
        self.keeping.piece.record(Moved(self._clock(), position))
        return True

    def toggle_by(self) -> None:
        """Let one press be a step, or a row."""
        by = "step" if self.progress.by == "row" else "row"
        self.keeping.piece.record(ByChanged(self._clock(), "row" if by == "row" else "step"))

    def toggle_words(self) -> None:
        """Full words, short ones, or as the row asks for."""
        following: dict[Words, Words] = {"auto": "full", "full": "short", "short": "auto"}
        self.words = following[self.words]

    # --- what happens beside the stitching ---------------------------------------------------

    def measure(self, mm: float) -> None:
        """Take down what the piece measures with the rows done so far."""
        self.keeping.piece.record(Measured(self._clock(), Length(self.progress.position.row, mm)))

    def join_thread(self, mm: float) -> None:
        """Take down that a new length of thread, cut so long, goes on from this row."""
        self.keeping.piece.record(Joined(self._clock(), Length(self.progress.position.row, mm)))

    def lose(self, key: str, count: int) -> None:
        """Take beads off the stock, by shape's and colour's letter; a negative count gives back."""
        self.keeping.piece.record(Lost(self._clock(), key, count))

    def count(self, key: str, beads: int) -> None:
        """Take down how many beads of a kind are on hand, by shape's and colour's letter."""
        self.keeping.piece.record(OnHand(self._clock(), key, beads))

    def unpick_to(self, goal: Position | None) -> None:
        """Begin to take work out back to `goal`, or give that up with None."""
        self.keeping.piece.record(Unpicking(self._clock(), goal))

    # --- looking -----------------------------------------------------------------------------

    def search(self) -> Search:
        """A search for the place from what there is to see."""
        from tracker.progress.finding import Search, sights  # noqa: PLC0415  seldom asked for

        return Search(sights(self.pattern), body=self.pattern.body, tube=bool(self.pattern.around))

    def alarms(self) -> tuple[str, ...]:
        """What the beader has to see for as long as it holds."""
        return self.keeping.alarms()

    def close(self) -> str:
        """Let go of the piece; what could not be saved, in words, "" for nothing."""
        return self.keeping.close()
