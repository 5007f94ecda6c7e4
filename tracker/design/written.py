"""Rows written by hand: the words in which a beader tells them, read into moves.

    start up:
      pick up 8 A called strung
    row down:
      repeat 4 times as n:
        pick up 1 B called next n, through strung 9-2n
      end

A line is a row's head, a step (one movement of the needle, its moves parted by commas), the head or
the end of a repeat, or what is to be left open. `#` begins a remark.

    start up:            a row of the start (or: row down:), worked that way
    turn: ...            before a step: the needle turns in it
    pick up 2 A and 1 B tile called first
                         beads by number, colour's letter and, where the design has both, kind
    through NAME         beads that are there, in the row's way; back through NAME against it
    through hole b of NAME
    pass by NAME         what lies in the way and must not be gone through
    under NAME and NAME  under the thread between two beads
    leave NAME open      a tile whose hole b no row goes through
    repeat 3 times:      up to the `end` that goes with it; repeats nest, of rows or of steps
    repeat 3 times as n: n counts 1, 2, 3

Beads are called by names of two letters and more. A name for several numbers them, `strung 3` is
the third; a number may be reckoned with counters, `strung 2n-1`. A name given again goes to the new
bead; `old NAME` is the one before.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from tracker.design.written_line import Line, SlipError
from tracker.design.written_model import Open, Part, Repeat, SpeltRow, Spot, problem_at
from tracker.problems import Problem, ProblemsError

MOST_LINES, LONGEST_LINE = 2000, 200
MOST_DEEP = 6
"""Repeats within repeats."""


def parse_written(lines: Sequence[str]) -> tuple[Part, ...]:
    """The parts that `lines` tell; raises ProblemsError with every line that cannot be read."""
    reading = _Reading()
    for number, text in enumerate(lines[:MOST_LINES], start=1):
        words = text.partition("#")[0]
        if len(text) > LONGEST_LINE:
            mend = f"write {LONGEST_LINE} characters or fewer"
            reading.problems.append(
                problem_at(Spot(number, LONGEST_LINE), "the line is too long", mend)
            )
        elif words.strip():
            try:
                reading.line(Line(words, number))
            except SlipError as slip:
                reading.problems.append(slip.problem)
    if len(lines) > MOST_LINES:
        what = f"there are {len(lines)} lines"
        reading.problems.append(problem_at(Spot(MOST_LINES, 1), what, "use repeats"))
    return reading.close(len(lines))


@dataclass
class _Reading:
    parts: list[Part] = field(default_factory=list)
    within: list[Repeat] = field(default_factory=list)
    row: SpeltRow | None = None
    row_depth: int = 0
    problems: list[Problem] = field(default_factory=list)

    def line(self, words: Line) -> None:
        """One line."""
        first = words.peek()
        if first in ("start", "row"):
            self._head(words)
        elif first == "repeat":
            self._repeat(words)
        elif first == "end":
            self._end(words)
        elif first == "leave":
            spot = words.take("leave")
            what = words.called()
            words.take("open")
            words.close()
            self._into().append(Open(spot, what))
        else:
            if self.row is None:
                mend = "begin a row first, such as `row up:`"
                raise SlipError(words.spot(), "a step belongs to a row", mend)
            self._into().append(words.step())

    def _into(self) -> list[Part]:
        """What the next part belongs to: the innermost repeat, or the row."""
        if self.within and (self.row is None or len(self.within) > self.row_depth):
            return self.within[-1].parts
        return self.parts if self.row is None else self.row.parts  # type: ignore[return-value]

    def _head(self, words: Line) -> None:
        spot = words.spot()
        section = "start" if words.next() == "start" else "rows"
        heading = words.one_of("up", "down")
        words.take(":")
        words.close()
        if self.row is not None and len(self.within) > self.row_depth:
            self._take_out(spot)
        self.row = SpeltRow(spot, section, "up" if heading == "up" else "down")
        self.row_depth = len(self.within)
        (self.within[-1].parts if self.within else self.parts).append(self.row)

    def _take_out(self, spot: Spot) -> None:
        """Take the repeats begun last out of the row before: they are repeats of rows."""
        assert self.row is not None, "there is a row before"
        inner = self.within[self.row_depth :]
        if any(repeat.parts for repeat in inner[-1:]):
            mend = "write `end` before the row begins"
            raise SlipError(spot, "a row begins within a repeat of steps", mend)
        self.row.parts.remove(inner[0])
        (self.within[self.row_depth - 1].parts if self.row_depth else self.parts).append(inner[0])

    def _repeat(self, words: Line) -> None:
        spot = words.take("repeat")
        times = words.index()
        words.take("times")
        counter = ""
        if words.peek() == "as":
            words.take("as")
            counter = words.counter()
        words.take(":")
        words.close()
        if len(self.within) == MOST_DEEP:
            raise SlipError(
                spot, f"more than {MOST_DEEP} repeats within each other", "take one out"
            )
        if counter and any(counter == outer.counter for outer in self.within):
            mend = "give the inner repeat another letter"
            raise SlipError(spot, f"{counter} counts the repeat around it already", mend)
        repeat = Repeat(spot, times, counter)
        self._into().append(repeat)
        self.within.append(repeat)

    def _end(self, words: Line) -> None:
        spot = words.take("end")
        words.close()
        if not self.within:
            raise SlipError(spot, "there is no repeat to end", "take the line out")
        self.within.pop()
        if self.row is not None and len(self.within) < self.row_depth:
            # The repeat was one of rows: its last row ends with it.
            self.row = None

    def close(self, last: int) -> tuple[Part, ...]:
        """All parts, once every repeat has its end."""
        for repeat in self.within:
            what = "the repeat has no end"
            self.problems.append(problem_at(repeat.spot, what, "write `end` on a line of its own"))
        if not self.parts and not self.problems:
            mend = "write `start up:` and its steps"
            self.problems.append(problem_at(Spot(max(1, last), 1), "no row is written", mend))
        if self.problems:
            raise ProblemsError(self.problems)
        return tuple(self.parts)
