"""What has happened to a piece and is not on the disk: kept in order, and said in words. Pure."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

from tracker.progress.durable import SaveError
from tracker.progress.position import START, Position
from tracker.progress.state import Closed, Event, Moved, Opened
from tracker.records import record

NOT_SAVED = "NOT SAVED"


@record(kw_only=True)
class Unsaved:
    """Events that are only in memory, why that is, and what stands on the disk."""

    events: tuple[Event, ...] = ()
    why: str = ""
    """Why the last try failed; "" while none did."""
    mend: str = ""
    """What may help, "" for nothing that is known."""
    stands: Position = START
    """The place that the disk tells."""

    @property
    def any(self) -> bool:
        """Whether there is something that only this memory knows."""
        return any(not isinstance(event, Opened | Closed) for event in self.events)

    def count(self) -> str:
        """How much there is, such as "3 moves and 1 note"; "" for nothing."""
        kinds = Counter(
            "move" if isinstance(event, Moved) else "note"
            for event in self.events
            if not isinstance(event, Opened | Closed)
        )
        said = [f"{n} {kind}{'' if n == 1 else 's'}" for kind, n in sorted(kinds.items())]
        return " and ".join(said)

    def words(self) -> str:
        """What is not saved, why and what to do; "" if all is."""
        if not self.any:
            return ""
        mend = f"; {self.mend}" if self.mend else ""
        return f"{NOT_SAVED}: {self.count()} only in memory: {self.why}{mend}"

    def stands_words(self, row_count: int) -> str:
        """What the disk tells of the place."""
        if self.stands.row >= row_count:
            return "on the disk the piece stands after its last row"
        row, step = self.stands.row + 1, self.stands.step + 1
        return f"on the disk the piece stands at row {row}, step {step}"

    def lost_words(self, row_count: int) -> str:
        """What is lost if nothing more is saved; "" if nothing is."""
        if not self.any:
            return ""
        what = "was" if self.count().startswith("1 ") and "and" not in self.count() else "were"
        return f"{self.count()} {what} NOT SAVED: {self.why}; {self.stands_words(row_count)}"


def happened(unsaved: Unsaved, *events: Event) -> Unsaved:
    """With events that came last."""
    return replace(unsaved, events=(*unsaved.events, *events))


def refused(unsaved: Unsaved, error: SaveError) -> Unsaved:
    """After the first event could not be put on the disk."""
    return replace(unsaved, why=error.why, mend=error.mend)


def first_saved(unsaved: Unsaved, stands: Position) -> Unsaved:
    """After the first event was put on the disk, which tells the place `stands` with it."""
    rest = unsaved.events[1:]
    if not rest:
        return Unsaved(stands=stands)
    return replace(unsaved, events=rest, stands=stands)
