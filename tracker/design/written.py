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

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from tracker.problems import Problem, ProblemsError

MOST_LINES, LONGEST_LINE = 2000, 200
MOST_DEEP = 6
"""Repeats within repeats."""

Way = Literal["up", "down"]

_KEYWORDS = frozenset(
    [
        *("start", "row", "up", "down", "turn", "repeat", "times", "as", "end"),
        *("pick", "and", "seed", "seeds", "tile", "tiles", "called", "the", "old"),
        *("go", "back", "through", "hole", "a", "b", "of", "pass", "by", "under", "leave", "open"),
    ]
)
_WORD = re.compile(r"\s*(?:(?P<word>[A-Za-z]+|\d*[a-z](?![A-Za-z])|\d+)|(?P<mark>[-+,;:.]))")
_MOVES = "pick up, through, back through, pass by or under"


@dataclass(frozen=True, slots=True)
class Spot:
    """Where something stands, from 1."""

    line: int
    column: int


@dataclass(frozen=True, slots=True)
class Index:
    """A number that may be reckoned with a counter: `times` x counter + `plus`."""

    plus: int
    times: int = 0
    counter: str = ""

    def value(self, counters: Mapping[str, int]) -> int:
        """The number, with the counters as they stand; KeyError for one that does not count."""
        return self.plus + (self.times * counters[self.counter] if self.counter else 0)


@dataclass(frozen=True, slots=True)
class Called:
    """A bead, or all beads, of a name."""

    spot: Spot
    name: str
    index: Index | None = None
    old: bool = False


@dataclass(frozen=True, slots=True)
class PickUp:
    """Beads to pick up, and what they are called from now on."""

    spot: Spot
    number: int
    colour: str
    kind: Literal["seed", "tile", ""]
    called: Called | None = None


@dataclass(frozen=True, slots=True)
class Through:
    """Beads to go through; `hole` is told for tiles."""

    spot: Spot
    what: Called
    hole: Literal["", "a", "b"]
    back: bool


@dataclass(frozen=True, slots=True)
class PassBy:
    """A bead to pass by."""

    spot: Spot
    what: Called


@dataclass(frozen=True, slots=True)
class GoUnder:
    """The thread between two beads."""

    spot: Spot
    one: Called
    other: Called


Move = PickUp | Through | PassBy | GoUnder


@dataclass(frozen=True, slots=True)
class SpeltStep:
    """One movement."""

    spot: Spot
    moves: tuple[Move, ...]
    turn: bool


@dataclass(frozen=True, slots=True)
class Open:
    """A tile that is left open."""

    spot: Spot
    what: Called


@dataclass(slots=True)
class SpeltRow:
    """A row: its steps and repeats of steps."""

    spot: Spot
    section: str
    heading: Way
    parts: list[SpeltStep | Repeat | Open] = field(default_factory=list)


@dataclass(slots=True)
class Repeat:
    """Parts that come so many times."""

    spot: Spot
    times: Index
    counter: str
    parts: list[SpeltRow | SpeltStep | Repeat | Open] = field(default_factory=list)


Part = SpeltRow | SpeltStep | Repeat | Open


def problem_at(spot: Spot, what: str, mend: str) -> Problem:
    """What is wrong at a spot of the text."""
    return Problem(f"layout.written line {spot.line} column {spot.column}", what, mend)


def picked_up(parts: Sequence[Part]) -> Iterator[PickUp]:
    """Every move in which beads are picked up, once for each time that it is written."""
    for part in parts:
        if isinstance(part, SpeltStep):
            yield from (move for move in part.moves if isinstance(move, PickUp))
        elif isinstance(part, SpeltRow | Repeat):
            yield from picked_up(part.parts)


class _SlipError(Exception):
    """A line that cannot be read."""

    def __init__(self, spot: Spot, what: str, mend: str) -> None:
        super().__init__(what)
        self.problem = problem_at(spot, what, mend)


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
                reading.line(_Words(words, number))
            except _SlipError as slip:
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

    def line(self, words: _Words) -> None:
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
                raise _SlipError(words.spot(), "a step belongs to a row", mend)
            self._into().append(words.step())

    def _into(self) -> list[Part]:
        """What the next part belongs to: the innermost repeat, or the row."""
        if self.within and (self.row is None or len(self.within) > self.row_depth):
            return self.within[-1].parts
        return self.parts if self.row is None else self.row.parts  # type: ignore[return-value]

    def _head(self, words: _Words) -> None:
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
            raise _SlipError(spot, "a row begins within a repeat of steps", mend)
        self.row.parts.remove(inner[0])
        (self.within[self.row_depth - 1].parts if self.row_depth else self.parts).append(inner[0])

    def _repeat(self, words: _Words) -> None:
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
            raise _SlipError(
                spot, f"more than {MOST_DEEP} repeats within each other", "take one out"
            )
        if counter and any(counter == outer.counter for outer in self.within):
            mend = "give the inner repeat another letter"
            raise _SlipError(spot, f"{counter} counts the repeat around it already", mend)
        repeat = Repeat(spot, times, counter)
        self._into().append(repeat)
        self.within.append(repeat)

    def _end(self, words: _Words) -> None:
        spot = words.take("end")
        words.close()
        if not self.within:
            raise _SlipError(spot, "there is no repeat to end", "take the line out")
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


class _Words:
    """The words of a line, one after the other."""

    def __init__(self, text: str, line: int) -> None:
        self._line = line
        self._found = list(_words(text, line))
        self._end = Spot(line, len(text.rstrip()) + 1)
        self._at = 0

    def spot(self) -> Spot:
        """Where the next word stands."""
        return self._found[self._at][1] if self._at < len(self._found) else self._end

    def peek(self, ahead: int = 0) -> str:
        """The next word, "" at the end."""
        at = self._at + ahead
        return self._found[at][0] if at < len(self._found) else ""

    def next(self) -> str:
        """The next word, taken."""
        word = self.peek()
        self._at += 1
        return word

    def take(self, word: str) -> Spot:
        """The next word, which must be this one."""
        spot = self.spot()
        if self.peek() != word:
            raise _SlipError(
                spot, f"{_found(self.peek())} stands where {word} is due", f"write {word}"
            )
        self._at += 1
        return spot

    def one_of(self, *words: str) -> str:
        """The next word, which must be one of these."""
        if self.peek() not in words:
            due = " or ".join(words)
            raise _SlipError(
                self.spot(), f"{_found(self.peek())} stands where {due} is due", f"write {due}"
            )
        return self.next()

    def close(self) -> None:
        """Nothing more may come, but for a full stop."""
        if self.peek() == ".":
            self._at += 1
        if self.peek():
            what = f"{_found(self.peek())} is too much here"
            raise _SlipError(self.spot(), what, "part moves by commas, and lines by a new line")

    def index(self) -> Index:
        """A number, perhaps reckoned with a counter: 3, n, 2n, 2n-1, 9-2n."""
        plus = times = 0
        counter = ""
        sign = 1
        while True:
            spot, word = self.spot(), self.next()
            match = re.fullmatch(r"(\d{0,4})([a-z]?)", word)
            if match is None or not word:
                raise _SlipError(
                    spot, f"{_found(word)} is no number", "write one such as 3 or 2n-1"
                )
            if match[2] and counter:
                raise _SlipError(spot, "two counters in one number", "keep one of them")
            if match[2]:
                counter, times = match[2], sign * int(match[1] or 1)
            else:
                plus += sign * int(match[1])
            if self.peek() not in ("+", "-"):
                return Index(plus, times, counter)
            sign = 1 if self.next() == "+" else -1

    def counter(self) -> str:
        """A counter's letter."""
        spot, word = self.spot(), self.next()
        if not re.fullmatch("[a-z]", word) or word in _KEYWORDS:
            mend = "use one small letter, but not a or b"
            raise _SlipError(spot, f"{_found(word)} is no counter", mend)
        return word

    def called(self) -> Called:
        """A bead by its name."""
        if self.peek() == "the":
            self._at += 1
        old = self.peek() == "old"
        self._at += old
        spot, name = self.spot(), self.next()
        if not re.fullmatch("[a-z]{2,20}", name) or name in _KEYWORDS:
            mend = "use a name of 2 to 20 small letters that is no word of the notation"
            raise _SlipError(spot, f"{_found(name)} is no name of a bead", mend)
        index = None
        if re.fullmatch(r"\d+|\d*[a-z]", self.peek()):
            index = self.index()
        return Called(spot, name, index, old)

    def step(self) -> SpeltStep:
        """Moves, parted by commas."""
        spot = self.spot()
        turn = self.peek() == "turn"
        if turn:
            self._at += 1
            if self.peek() == ":":
                self._at += 1
        moves = list(self._move())
        while self.peek() in (",", ";"):
            self._at += 1
            moves += self._move()
        self.close()
        return SpeltStep(spot, tuple(moves), turn)

    def _move(self) -> Iterator[Move]:
        spot = self.spot()
        if self.peek() == "go":
            self._at += 1
        word = self.peek()
        if word == "pick":
            self._at += 1
            self.take("up")
            yield self._item()
            while self._more():
                yield self._item()
        elif word in ("through", "back"):
            back = word == "back"
            self._at += back
            self.take("through")
            yield self._target(spot, back)
            while self._more():
                yield self._target(self.spot(), back)
        elif word == "pass":
            self._at += 1
            self.take("by")
            yield PassBy(spot, self.called())
            while self._more():
                yield PassBy(self.spot(), self.called())
        elif word == "under":
            self._at += 1
            one = self.called()
            self.take("and")
            yield GoUnder(spot, one, self.called())
        else:
            raise _SlipError(spot, f"{_found(word)} begins no move", f"begin it with {_MOVES}")

    def _more(self) -> bool:
        if self.peek() != "and":
            return False
        self._at += 1
        return True

    def _item(self) -> PickUp:
        spot, number = self.spot(), self.next()
        if not re.fullmatch(r"\d{1,4}", number) or not int(number):
            raise _SlipError(spot, f"{_found(number)} is no number of beads", "write one such as 2")
        at, colour = self.spot(), self.next()
        if not re.fullmatch("[A-Z]", colour):
            raise _SlipError(at, f"{_found(colour)} is no colour's letter", "write one such as A")
        kind: Literal["seed", "tile", ""] = ""
        if self.peek() in ("seed", "seeds", "tile", "tiles"):
            kind = "tile" if self.next().startswith("tile") else "seed"
        called = None
        if self.peek() == "called":
            self._at += 1
            called = self.called()
        return PickUp(spot, int(number), colour, kind, called)

    def _target(self, spot: Spot, back: bool) -> Through:
        hole: Literal["", "a", "b"] = ""
        if self.peek() == "the" and self.peek(1) == "hole":
            self._at += 1
        if self.peek() == "hole":
            self._at += 1
            hole = "a" if self.one_of("a", "b") == "a" else "b"
            self.take("of")
        return Through(spot, self.called(), hole, back)


def _words(text: str, line: int) -> Iterator[tuple[str, Spot]]:
    at = 0
    while text[at:].strip():
        found = _WORD.match(text, at)
        if found is None:
            column = at + len(text[at:]) - len(text[at:].lstrip()) + 1
            what = f"{text[column - 1]!r} has no meaning here"
            raise _SlipError(Spot(line, column), what, "write letters, numbers and commas")
        word = found["word"] or found["mark"]
        at = found.end()
        yield (
            (word if re.fullmatch("[A-Z]", word) else word.lower()),
            Spot(line, at - len(word) + 1),
        )


def _found(word: str) -> str:
    return f'"{word}"' if word else "the end of the line"
