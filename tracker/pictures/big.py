"""Large print: letters of seven lines, drawn from cells, legible across a room.

At 80 columns a letter stands about 30 mm high on a usual screen; at two metres that is some
fifty minutes of arc, ten times what the sharp eye resolves (5', the 6/6 line of an eye chart).
"""

from __future__ import annotations

from tracker.pictures.cells import Cell
from tracker.records import record

HEIGHT = 7
"""Lines of a letter."""

# Five dots wide, seven high, a digit a line: bit 4 is the left dot.
_DOTS = {
    "0": "0e 11 13 15 19 11 0e",
    "1": "04 0c 04 04 04 04 0e",
    "2": "0e 11 01 02 04 08 1f",
    "3": "1f 02 04 02 01 11 0e",
    "4": "02 06 0a 12 1f 02 02",
    "5": "1f 10 1e 01 01 11 0e",
    "6": "06 08 10 1e 11 11 0e",
    "7": "1f 01 02 04 08 08 08",
    "8": "0e 11 11 0e 11 11 0e",
    "9": "0e 11 11 0f 01 02 0c",
    "A": "0e 11 11 1f 11 11 11",
    "B": "1e 11 11 1e 11 11 1e",
    "C": "0e 11 10 10 10 11 0e",
    "D": "1c 12 11 11 11 12 1c",
    "E": "1f 10 10 1e 10 10 1f",
    "F": "1f 10 10 1e 10 10 10",
    "G": "0e 11 10 17 11 11 0f",
    "H": "11 11 11 1f 11 11 11",
    "I": "0e 04 04 04 04 04 0e",
    "J": "07 02 02 02 02 12 0c",
    "K": "11 12 14 18 14 12 11",
    "L": "10 10 10 10 10 10 1f",
    "M": "11 1b 15 15 11 11 11",
    "N": "11 11 19 15 13 11 11",
    "O": "0e 11 11 11 11 11 0e",
    "P": "1e 11 11 1e 10 10 10",
    "Q": "0e 11 11 11 15 12 0d",
    "R": "1e 11 11 1e 14 12 11",
    "S": "0f 10 10 0e 01 01 1e",
    "T": "1f 04 04 04 04 04 04",
    "U": "11 11 11 11 11 11 0e",
    "V": "11 11 11 11 11 0a 04",
    "W": "11 11 11 15 15 15 0a",
    "X": "11 11 0a 04 0a 11 11",
    "Y": "11 11 0a 04 04 04 04",
    "Z": "1f 01 02 04 08 10 1f",
    "^": "04 0e 15 04 04 04 04",
    "v": "04 04 04 04 15 0e 04",
    ">": "00 04 02 1f 02 04 00",
    "<": "00 04 08 1f 08 04 00",
    "+": "00 04 04 1f 04 04 00",
    " ": "00 00 00 00 00 00 00",
}


@record
class Sign:
    """A letter, digit or arrow (^ v > < +), with its colours; "" for the terminal's own."""

    sign: str
    front: str = ""
    back: str = ""


def width_of(signs: tuple[Sign, ...], across: int = 2) -> int:
    """Cells that a line of signs is wide, with `across` cells to a dot."""
    return len(signs) * 7 * across


def big_line(signs: tuple[Sign, ...], *, mono: bool, across: int = 2) -> list[list[Cell]]:
    """The signs side by side, `HEIGHT` + 2 lines high, each on a block of its own colour."""
    rows = []
    for y in range(-1, HEIGHT + 1):
        row: list[Cell] = []
        for sign in signs:
            dots = _DOTS.get(sign.sign.upper() if sign.sign != "v" else "v", _DOTS[" "]).split()
            bits = int(dots[y], 16) if 0 <= y < HEIGHT else 0
            blank = Cell(" ", "", "" if mono else sign.back)
            dot = Cell("█", "" if mono else sign.front, "" if mono else sign.back, bold=True)
            row += [blank] * across
            for x in range(5):
                row += [dot if bits >> (4 - x) & 1 else blank] * across
            row += [blank] * across
        rows.append(row)
    return rows
