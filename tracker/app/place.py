"""All that the widgets of the stitching screen show, in one value. Attributes down."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from tracker.app.look import Dress
from tracker.path.model import Step
from tracker.path.words import Phrase, phrases, step_sentence
from tracker.pattern.model import Pattern
from tracker.pattern.standing import standing
from tracker.progress.left import Left
from tracker.progress.position import By, Position
from tracker.stitches import find_stitch, stitch_names

Words = Literal["auto", "full", "short"]
"""How much is said: full words in the first rows only, always, or never."""
LEARNING_ROWS = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """A place of a piece, and how it is to be shown."""

    pattern: Pattern
    position: Position
    name: str
    by: By
    words: Words
    left: Left
    read_only: bool
    dress: Dress

    @property
    def finished(self) -> bool:
        """Whether every row is done."""
        return self.position.row >= self.pattern.row_count

    @property
    def learning(self) -> bool:
        """Whether this place is spoken of in full words."""
        if self.words != "auto":
            return self.words == "full"
        return self.position.row < LEARNING_ROWS

    def hint(self) -> str:
        """What a learner should know or see here, "" for the practised."""
        if not self.learning or self.pattern.stitch not in stitch_names():
            return ""
        stitch = find_stitch(self.pattern.stitch)
        return stitch.hint(self.position.row + 1, self.position.step + 1, self.pattern.columns)

    def sentence(self, step: Step) -> str:
        """A step of this row in words."""
        row = self.pattern.row(self.position.row)
        return step_sentence(self.pattern, row, step, full=self.learning)

    def standing(self) -> tuple[str, ...]:
        """What the work should look like."""
        return standing(self.pattern, *self.position)

    def moves(self) -> tuple[Phrase, ...]:
        """What to do now, one phrase a move; none when all is done."""
        if self.finished:
            return ()
        row = self.pattern.row(self.position.row)
        return phrases(self.pattern, row, row.steps[self.position.step], full=self.learning)
