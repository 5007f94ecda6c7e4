"""What keeps a piece in hand safe: its files, what is not in them yet, and journals beside its own.

While something cannot be saved the work goes on in memory, and that is said for as long as it
holds. Whoever shows the piece asks before it is left so.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from pathlib import Path

from tracker.dates import here
from tracker.problems import Problem, ProblemsError, shown
from tracker.progress import durable, journal
from tracker.progress.durable import SaveError
from tracker.progress.opened import OpenPiece, open_piece
from tracker.progress.others import Other, put_by, take
from tracker.progress.piece import JOURNAL, PATTERN
from tracker.progress.position import Position
from tracker.progress.store import Store
from tracker.progress.unsaved import Unsaved
from tracker.starting import InHand

SAVED_AGAIN = "Saved again: all that was only in memory is on the disk."
KEPT = "What you did not take is kept in the piece's folder."
CHOOSE = (
    "Another journal lies beside this piece's own: another machine, a program that keeps folders "
    "alike, or a change by both left it there. Look at your work: where does it stand?"
)


class Keeping:
    """The files of one piece in hand."""

    def __init__(self, in_hand: InHand, clock: Callable[[], datetime]) -> None:
        self.piece: OpenPiece = in_hand.piece
        self._pattern, self._text = in_hand.pattern, in_hand.text
        self._clock = clock
        self._elsewhere = ""

    @property
    def unsaved(self) -> Unsaved:
        """What is only in memory."""
        return self.piece.unsaved

    def save(self) -> bool:
        """Try again to save what could not be saved; whether there is nothing left of it."""
        self.piece.save()
        return not self.unsaved.any

    def alarms(self) -> tuple[str, ...]:
        """What the beader has to see for as long as it holds, a sentence each."""
        said = [self.unsaved.words()] if self.unsaved.any else []
        then = "to choose between them, stop here and open it again"
        if self.piece.beside is not None:
            said.append(
                "ANOTHER PROGRAM changed this piece's journal: what you do goes into "
                f"{self.piece.beside.name}; {then}"
            )
        if self.piece.new_strangers:
            names = ", ".join(map(shown, sorted(self.piece.new_strangers)))
            said.append(f"ANOTHER JOURNAL of this piece has come, {names}; {then}")
        return tuple(said)

    # --- when it cannot be saved where it was ----------------------------------------------------

    def leaving_words(self) -> str:
        """What is not saved, and what stands on the disk."""
        unsaved = self.unsaved
        stands = unsaved.stands_words(self._pattern.row_count)
        return f"{unsaved.words()}. {stands[0].upper()}{stands[1:]}."

    @property
    def folder_gone(self) -> bool:
        """Whether the piece's folder is gone, and the one that it lay in is there."""
        path = self.piece.folder.path
        try:
            path.lstat()
        except FileNotFoundError:
            return path.parent.is_dir()
        except OSError:  # there, but not to be looked at
            return False
        return False

    def make_anew(self) -> None:
        """Make the piece's folder anew, from what is known here. Raises SaveError."""
        old = self.piece
        store = Store(old.folder.path.parent.parent)
        files = {PATTERN: self._text.encode(), JOURNAL: self._journal()}
        # Under the first names: what moves to other patterns left went with the folder.
        folder = store.add(files, replace(old.folder, moved=0))
        self.piece = open_piece(folder, self._pattern, clock=self._clock)
        old.forget()

    def write_elsewhere(self, path: Path) -> None:
        """Write the piece to one file, with all that could not be saved, to be imported again.

        Nothing is written over. Raises ProblemsError that names the file.
        """
        from tracker.progress.exported import Exported, write  # noqa: PLC0415  hardly ever

        journal_text = self._journal().decode("ascii")
        name = self.piece.folder.name
        text = write(Exported(name=name, pattern=self._text, journal=journal_text))
        try:
            durable.create(path, text.encode())
        except (OSError, ValueError) as error:
            what = "cannot be written"
            if isinstance(error, FileExistsError):
                what = "is there already"
            elif isinstance(error, OSError):
                what = f"cannot be written: {durable.reason(error)}"
            raise ProblemsError([Problem("file", what, "name another")], str(path)) from None
        self._elsewhere = f"; all of it is in {path}, which `tracker import` takes in"

    def _journal(self) -> bytes:
        digest, rows = self._pattern.digest, self._pattern.row_count
        return journal.whole(digest, self.piece.progress, rows, self._clock())[0]

    # --- other journals ----------------------------------------------------------------------

    @property
    def others(self) -> tuple[Other, ...]:
        """Other journals of the piece that were found beside its own."""
        return self.piece.others

    def choices(self) -> tuple[str, ...]:
        """How far the piece's own journal got, then each of the others."""
        own = f"{self._stands(self.piece)}: as it is now"
        further = ", which goes on from where this one ends"
        return (
            own,
            *(
                f"{self._stands(other)}: {shown(other.path.name)}{further * other.goes_on}"
                for other in self.others
            ),
        )

    def _stands(self, what: OpenPiece | Other) -> str:
        progress = what.progress
        assert progress is not None, "one that cannot be used is told at the opening"
        place, when = progress.position, progress.last_stitched
        said = _named(place, self._pattern.row_count)
        stitched = f"stitched {here(when):%d %b %Y, %H:%M}" if when else "not stitched yet"
        return f"{said}, {stitched}"

    def choose(self, other: Other | None) -> None:
        """Go on with another journal of the piece, or with its own; the rest is put by.

        Raises SaveError or ProblemsError; the piece is then in hand as it was.
        """
        folder, rest = self.piece.folder, [each for each in self.others if each is not other]
        self.piece.close()
        if self.unsaved.any:
            raise SaveError(self.unsaved.words())
        try:
            if other is not None:
                take(folder, self._pattern, other)
            for each in rest:
                put_by(folder, each)
        finally:
            self.piece = open_piece(folder, self._pattern, clock=self._clock)

    def close(self) -> str:
        """Let go of the piece; what could not be saved, in words, "" for nothing."""
        self.piece.close()
        lost = self.unsaved.lost_words(self._pattern.row_count)
        return f"{self.piece.folder.name}: {lost}{self._elsewhere}" if lost else ""


def _named(place: Position, rows: int) -> str:
    return "all rows done" if place.row >= rows else f"row {place.row + 1}, step {place.step + 1}"
