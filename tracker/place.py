"""All there is to show of a place in a piece, in one value, for every way of showing it."""

from __future__ import annotations

from tracker.path.model import WOVEN, Step
from tracker.path.words import Phrase, caution, phrases, step_sentence
from tracker.pattern.model import Pattern
from tracker.pattern.standing import standing
from tracker.progress.left import Left
from tracker.progress.position import By, Position, back
from tracker.progress.stock import Watched, stock_words
from tracker.records import record
from tracker.settings.model import Words
from tracker.stitches import find_stitch

JOIN = (
    "Join a new thread: weave it in along the thread path with two or three half-hitch knots, "
    "come out where the old one comes out, and weave the old one in."
)
JOIN_AHEAD = 3
"""So many rows before it a join is announced."""
LEARNING_ROWS = 8
"""Rows in which everything is said in full words, unless the beader wants it otherwise."""


@record(kw_only=True)
class Place:
    """A place of a piece, and how it is to be spoken of."""

    pattern: Pattern
    position: Position
    name: str
    by: By
    words: Words
    left: Left
    read_only: bool
    unpicking: Position | None = None
    """The place to go back to while work is being taken out."""
    alarms: tuple[str, ...] = ()
    """What the beader has to see for as long as it holds, such as what is not saved."""
    watched: tuple[Watched, ...] = ()
    """Kinds of bead whose number on hand was recorded."""

    @property
    def finished(self) -> bool:
        """Whether every row is done."""
        return self.position.row >= self.pattern.row_count

    @property
    def learning(self) -> bool:
        """Whether this place is spoken of in full words."""
        if self.words != "auto":
            return self.words == "full"
        if self.position.row < LEARNING_ROWS or self.finished:
            return self.position.row < LEARNING_ROWS
        # Nobody comes to the ends in practice: they are done once a piece.
        return self.pattern.section_names[self.position.row] not in WOVEN

    def moves(self) -> tuple[Phrase, ...]:
        """What to do now, one phrase a move; none when all is done."""
        if self.finished:
            return ()
        row = self.pattern.row(self.position.row)
        return phrases(self.pattern, row, row.steps[self.position.step], full=self.learning)

    def sentence(self, step: Step) -> str:
        """A step of this row in words."""
        row = self.pattern.row(self.position.row)
        return step_sentence(self.pattern, row, step, full=self.learning)

    def hint(self) -> str:
        """What a learner should know or see here, "" for the practised."""
        if not self.learning or self.finished:
            return ""
        if self.pattern.section_names[self.position.row] not in WOVEN:
            return ""
        try:
            stitch = find_stitch(self.pattern.stitch)
        except KeyError:
            return ""
        return stitch.hint(self.position.row + 1, self.position.step + 1, self.pattern.wide)

    def caution(self, step: Step) -> str:
        """What to be careful of in a step, "" for nothing in particular; never left out."""
        return caution(self.pattern, step)

    def standing(self) -> tuple[str, ...]:
        """What the work should look like."""
        return standing(self.pattern, *self.position)

    def undoing(self) -> str:
        """How the step stitched last is taken back; "" at the start."""
        from tracker.progress.unpicking import undo_words  # noqa: PLC0415  where work is taken out

        before = back(self.pattern, self.position, "step")
        return "" if before == self.position else undo_words(self.pattern, before)

    def join_words(self) -> str:
        """What to do about the thread here: a join that comes soon or is due; "" if neither."""
        left = self.left
        if left.join_due:
            return f"{JOIN} Then take down the new length."
        if left.join_in_rows is None or left.finished or left.join_in_rows > JOIN_AHEAD:
            return ""
        if left.join_in_rows == 1:
            return "A new thread is joined at the end of this row."
        if self.position.step:
            return ""
        return f"A new thread is joined in {left.join_in_rows} rows."

    def said(self) -> str:
        """The step as it is read aloud."""
        if self.unpicking is not None:
            return self.undoing()
        if self.finished:
            return f"All {self.left.rows} rows are done."
        steps = self.pattern.row(self.position.row).steps
        if self.by == "row":
            return f"Row {self.left.row}. {self.sentence(steps[0])}."
        step = steps[self.position.step]
        warned = self.caution(step)
        return f"{self.sentence(step)}. Caution: {warned}" if warned else self.sentence(step)

    def measured_words(self, before: Left) -> str:
        """What a measurement has changed; `before` is what was believed until then."""
        left = self.left
        low, high = left.rows_left_range
        text = f"{left.length:.0f} mm now, {before.length:.0f} mm were believed"
        if self.pattern.target is None:
            return f"{text}; {left.rows_left} rows make {left.target:.0f} mm."
        due = left.rows_to_target
        text += f"; {due} rows to {left.target:.0f} mm ({low} to {high})"
        if due != left.rows_left:
            text += f", the pattern has {left.rows_left}"
        return f"{text}."

    def shortages(self) -> tuple[str, ...]:
        """Each kind of bead that does not last, in words."""
        return tuple(stock_words(self.pattern, kind) for kind in self.watched if kind.short)

    def counts(self) -> str:
        """What is left, as it is read aloud."""
        left = self.left
        said = [f"Row {left.row} of {left.rows}, step {left.step} of {left.steps}"]
        said.append(f"{left.rows_left} rows to go, about {left.length_left:.0f} millimetres")
        for key, kind in self.pattern.kinds():
            name = self.pattern.colour(kind.colour).name
            said.append(f"{left.beads[key]} {name} {kind.shape.kind}s")
        said += self.shortages()
        on_needle, cut = left.thread / 1000, left.thread_cut / 1000
        said.append(f"{on_needle:.2f} of {cut:g} metres of thread left on the needle")
        if left.join_in_rows is not None:
            said.append(f"a join in {left.join_in_rows} rows")
        return "; ".join(said) + "."
