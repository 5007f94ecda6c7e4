"""A line of rows written by hand, word by word: steps, moves, names and numbers."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Literal

from tracker.design.written_model import (
    Called,
    GoUnder,
    Index,
    Move,
    PassBy,
    PickUp,
    SpeltStep,
    Spot,
    Through,
    problem_at,
)

_KEYWORDS = frozenset(
    [
        *("start", "row", "up", "down", "turn", "repeat", "times", "as", "end"),
        *("pick", "and", "seed", "seeds", "tile", "tiles", "called", "the", "old"),
        *("go", "back", "through", "hole", "a", "b", "of", "pass", "by", "under", "leave", "open"),
    ]
)
_WORD = re.compile(r"\s*(?:(?P<word>[A-Za-z]+|\d*[a-z](?![A-Za-z])|\d+)|(?P<mark>[-+,;:.]))")
_MOVES = "pick up, through, back through, pass by or under"


class SlipError(Exception):
    """A line that cannot be read."""

    def __init__(self, spot: Spot, what: str, mend: str) -> None:
        super().__init__(what)
        self.problem = problem_at(spot, what, mend)


class Line:
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
            raise SlipError(
                spot, f"{_found(self.peek())} stands where {word} is due", f"write {word}"
            )
        self._at += 1
        return spot

    def one_of(self, *words: str) -> str:
        """The next word, which must be one of these."""
        if self.peek() not in words:
            due = " or ".join(words)
            raise SlipError(
                self.spot(), f"{_found(self.peek())} stands where {due} is due", f"write {due}"
            )
        return self.next()

    def close(self) -> None:
        """Nothing more may come, but for a full stop."""
        if self.peek() == ".":
            self._at += 1
        if self.peek():
            what = f"{_found(self.peek())} is too much here"
            raise SlipError(self.spot(), what, "part moves by commas, and lines by a new line")

    def index(self) -> Index:
        """A number, perhaps reckoned with a counter: 3, n, 2n, 2n-1, 9-2n."""
        plus = times = 0
        counter = ""
        sign = 1
        while True:
            spot, word = self.spot(), self.next()
            match = re.fullmatch(r"(\d{0,4})([a-z]?)", word)
            if match is None or not word:
                raise SlipError(spot, f"{_found(word)} is no number", "write one such as 3 or 2n-1")
            if match[2] and counter:
                raise SlipError(spot, "two counters in one number", "keep one of them")
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
            raise SlipError(spot, f"{_found(word)} is no counter", mend)
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
            raise SlipError(spot, f"{_found(name)} is no name of a bead", mend)
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
            raise SlipError(spot, f"{_found(word)} begins no move", f"begin it with {_MOVES}")

    def _more(self) -> bool:
        if self.peek() != "and":
            return False
        self._at += 1
        return True

    def _item(self) -> PickUp:
        spot, number = self.spot(), self.next()
        if not re.fullmatch(r"\d{1,4}", number) or not int(number):
            raise SlipError(spot, f"{_found(number)} is no number of beads", "write one such as 2")
        at, colour = self.spot(), self.next()
        if not re.fullmatch("[A-Z]", colour):
            raise SlipError(at, f"{_found(colour)} is no colour's letter", "write one such as A")
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
            raise SlipError(Spot(line, column), what, "write letters, numbers and commas")
        word = found["word"] or found["mark"]
        at = found.end()
        yield (
            (word if re.fullmatch("[A-Z]", word) else word.lower()),
            Spot(line, at - len(word) + 1),
        )


def _found(word: str) -> str:
    return f'"{word}"' if word else "the end of the line"
