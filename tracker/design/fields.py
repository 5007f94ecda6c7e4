"""Typed getters for the tables of a file, which collect what is wrong instead of stopping.

A getter returns None when it has noted a problem (or when a value without a default is missing,
which is a problem too), so that the reader can go on to the next key.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from datetime import date, datetime, time

from tracker.design.lengths import parse_length, written
from tracker.problems import Problem, nearest

_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
_LONGEST_QUOTE = 40
_LONGEST_NAME = 60
_MOST_UNKNOWN = 20
_LARGEST_SPELT = 10**12

_KINDS: tuple[tuple[type | tuple[type, ...], str], ...] = (
    (bool, "true or false"),  # before int: to Python true is a number
    (str, "text"),
    (int, "a whole number"),
    (float, "a number"),
    (list, "a list"),
    (dict, "a table"),
    ((datetime, date, time), "a date or time"),
)


def quoted(text: str) -> str:
    """`text` in quotes, cut if it is long."""
    return f'"{text if len(text) <= _LONGEST_QUOTE else text[:_LONGEST_QUOTE] + "..."}"'


def named(choices: Collection[str], limit: int = 30) -> str:
    """The choices as a list in words, cut if there are many."""
    some = list(choices)
    return ", ".join(some[:limit]) + (", ..." if len(some) > limit else "")


def _number(value: float) -> str:
    # TOML can hold a whole number that Python refuses to spell out.
    too_long = isinstance(value, int) and abs(value) > _LARGEST_SPELT
    return "a far larger number" if too_long else f"the number {value}"


def kind_of(value: object) -> str:
    """What a TOML value is, in words."""
    for kind, words in _KINDS:
        if isinstance(value, kind):
            return _number(value) if isinstance(value, int | float) and kind is not bool else words
    raise TypeError(f"no TOML value: {type(value)}")


class Fields:
    """One table of a file: `place` is its own name in the file, "" for the top."""

    def __init__(self, values: Mapping[str, object], problems: list[Problem], place: str) -> None:
        self.values = values
        self.problems = problems
        self.place = place
        self._meant: set[str] = set()

    def where(self, key: str) -> str:
        """The place of `key` in the file, such as `colours.A.hex`."""
        name = key if _BARE_KEY.fullmatch(key) and len(key) <= _LONGEST_QUOTE else quoted(key)
        return f"{self.place}.{name}" if self.place else name

    def problem(self, key: str, what: str, mend: str) -> None:
        """Note what is wrong with the value of `key`, or with the table itself if that is ""."""
        self.problems.append(Problem(self.where(key) if key else self.place, what, mend))

    def refuse_unknown(self, keys: Collection[str]) -> None:
        """Note the keys that are not one of `keys`; of very many only the first, and how many."""
        unknown = [key for key in self.values if key not in keys]
        for key in unknown[:_MOST_UNKNOWN]:
            # What is longer than any name misspells none, and takes long to compare.
            meant = nearest(key, keys) if len(key) <= _LONGEST_NAME else None
            if meant:
                self._meant.add(meant)
            mend = f"did you mean {meant}?" if meant else f"the keys are {named(keys)}"
            self.problem(key, "is no known key", mend)
        if len(unknown) > _MOST_UNKNOWN:
            what = f"holds {len(unknown) - _MOST_UNKNOWN:,} more keys that are not known"
            self.problems.append(Problem(self.place or "file", what, f"the keys are {named(keys)}"))

    def missing(self, key: str, mend: str) -> None:
        """Note that `key`, which has no default, is not there (under its misspelt name either)."""
        if key not in self._meant:
            self.problem(key, "is missing", mend)

    def _wrong(self, key: str, expected: str, mend: str) -> None:
        self.problem(key, f"should be {expected}, not {kind_of(self.values[key])}", mend)

    def table(self, key: str, mend: str = "") -> Fields | None:
        """The table `key`. Without `mend` it may be left out."""
        if key not in self.values:
            if mend:
                self.missing(key, mend)
            return None
        value = self.values[key]
        if isinstance(value, dict):
            return Fields(value, self.problems, self.where(key))
        self._wrong(key, "a table", mend or f"write it as a table, [{self.where(key)}]")
        return None

    def text(self, key: str, mend: str) -> str | None:
        """The text of `key`, which must be there."""
        if key not in self.values:
            self.missing(key, mend)
            return None
        value = self.values[key]
        if isinstance(value, str):
            return value
        self._wrong(key, "text", mend)
        return None

    def name(self, key: str, mend: str) -> str | None:
        """The text of `key` as a name to show: printable, 1 to 60 characters, stripped."""
        text = self.text(key, mend)
        if text is None:
            return None
        text = text.strip(" ")
        if not text:
            self.problem(key, "is empty", mend)
        elif len(text) > _LONGEST_NAME:
            self.problem(
                key,
                f"is {len(text)} characters long",
                f"shorten it to {_LONGEST_NAME} or fewer",
            )
        elif not text.isprintable():
            odd = next(c for c in text if not c.isprintable())
            self.problem(
                key,
                f"holds a character that cannot be shown, U+{ord(odd):04X}",
                "leave it out",
            )
        else:
            return text
        return None

    def choice(self, key: str, choices: Collection[str], mend: str) -> str | None:
        """The text of `key`, which must be one of `choices`."""
        text = self.text(key, mend)
        if text is None or text in choices:
            return text
        meant = nearest(text, choices)
        hint = f'did you mean "{meant}"?' if meant else f"choose one of: {named(choices)}"
        self.problem(key, f"{quoted(text)} is not known", hint)
        return None

    def whole(self, key: str, least: int, most: int, default: int | None = None) -> int | None:
        """The whole number of `key`, from `least` to `most`."""
        mend = f"write a whole number from {least} to {most}"
        if least == most:
            mend = f"write {key} = {least}"
        if key not in self.values:
            if default is None:
                self.missing(key, mend)
            return default
        value = self.values[key]
        if not isinstance(value, int) or isinstance(value, bool):
            self._wrong(key, "a whole number", mend)
        elif not least <= value <= most:
            self.problem(key, f"{_number(value)} is out of range", mend)
        else:
            return value
        return None

    def flag(self, key: str) -> bool:
        """True or false; false when left out."""
        value = self.values.get(key, False)
        if isinstance(value, bool):
            return value
        self._wrong(key, "true or false", "write true or false, without quotes")
        return False

    def length(
        self, key: str, least: float, most: float, default: float | None, example: float
    ) -> float | None:
        """The length of `key` in mm, from `least` to `most` mm; `example` is a usual one."""
        mend = f'write a length with its unit (mm, cm, m or in), such as "{written(example)}"'
        if key not in self.values:
            if default is None:
                self.missing(key, mend)
            return default
        value = self.values[key]
        if not isinstance(value, str):
            if (
                isinstance(value, int | float)
                and not isinstance(value, bool)
                and least <= value <= most
            ):
                mend = f'write it with its unit (mm, cm, m or in), such as "{value} mm"'
            self._wrong(key, "a length in quotes", mend)
            return None
        try:
            length = parse_length(value)
        except ValueError as error:
            what, _, how = str(error).partition(": ")
            self.problem(key, what, how or mend)
            return None
        if least <= length <= most:
            return length
        self.problem(
            key,
            f"{quoted(value)} is out of range",
            f"write a length from {written(least)} to {written(most)}",
        )
        return None
