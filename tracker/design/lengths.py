"""Lengths as a beader writes them: a number and its unit."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Literal, get_args

from tracker.problems import shown

Unit = Literal["mm", "cm", "m", "in"]

# Exact, so that "16 cm", "0.16 m" and "160 mm" are the same float.
_MILLIMETRES: dict[str, Fraction] = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": Fraction(254, 10),
}
assert set(_MILLIMETRES) == set(get_args(Unit))

_LONGEST_TEXT = 40
_SHORTEST = Fraction(1, 1000)
_LONGEST = Fraction(100_000)
# Compiled, and kept so, when the first length is read.
_FORM = (
    r"(?:(?P<decimal>[0-9]+(?:\.[0-9]+)?)"
    r"|(?:(?P<whole>[0-9]+) +)?(?P<part>[0-9]+/[0-9]*[1-9][0-9]*))"
    r" *(?P<unit>mm|cm|m|in)"
)
_HOW = 'write a number and mm, cm, m or in, such as "160 mm", "1.8 m" or "6 1/4 in"'


def parse_length(text: str) -> float:
    """The length that `text` says, in mm: "160 mm", "16 cm", "1.8 m", "6.3 in", "6 1/4 in".

    Raises ValueError, in words for the beader, if it is none, or not from 0.001 mm to 100 m.
    """
    said = text.strip()
    short = shown(said if len(said) <= _LONGEST_TEXT else said[:_LONGEST_TEXT] + "...")
    found = re.fullmatch(_FORM, said) if len(said) <= _LONGEST_TEXT else None
    if found is None:
        raise ValueError(f'"{short}" is no length: {_HOW}')
    number = Fraction(found["decimal"] or found["part"]) + int(found["whole"] or 0)
    millimetres = number * _MILLIMETRES[found["unit"]]
    if not _SHORTEST <= millimetres <= _LONGEST:
        fault = "too long: 100 m is" if millimetres > _LONGEST else "too short: 0.001 mm is"
        raise ValueError(f'"{short}" is {fault} the limit (units are mm, cm, m and in)')
    return float(millimetres)


def written(mm: float, unit: Unit = "mm", places: int = 3) -> str:
    """`mm` millimetres written in `unit`, to at most `places` decimals: "160 mm", "6.299 in"."""
    number = f"{mm / float(_MILLIMETRES[unit]):.{places}f}"
    if "." in number:
        number = number.rstrip("0").rstrip(".")
    return f"{number} {unit}"
