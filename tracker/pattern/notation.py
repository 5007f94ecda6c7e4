"""A row of the path as one line of text, and back.

    3 up 19 4.81 2 20.5: sS tA 15 !3 17b | sS tB 13 | turn sS sS 22b<

Before the colon: the row's number, its heading, the number of its first bead, the x of its
origin (mm), the line of places that its beads follow (0 if it picks up none), and the thread
that it takes up (mm).
After it the steps, parted by bars, each of these moves in order:

    sS     pick up a bead: the letter of its shape, the letter of its colour
    15     go through seed 15
    17b    go through hole b of tile 17
    !3     pass by bead 3
    ~3~4   go under the thread between beads 3 and 4
    turn   (first in its step) the needle turns in this step
    =knot  a step without a bead, by its name (alone in its step)
    <      behind a move: against the row's heading

A line of places has `x y tilt` of each bead, parted by commas, x counted from the origin.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache
from typing import cast

from tracker.beads.model import Shape
from tracker.path.model import (
    Bead,
    Heading,
    Hole,
    Pass,
    Row,
    Step,
    Under,
    new_bead,
    new_pass,
    new_place,
)
from tracker.path.notes import NOTES, Note
from tracker.path.plane import GRAIN, first_hole

PICKED_UP = re.compile(r"[a-z][A-Z]")
"""A bead picked up, in the moves of a line."""

_NUMBER = r"-?\d{1,7}\.\d{1,2}"
_MOVE = r"(?:[a-z][A-Z]<?|!\d{1,7}|~\d{1,7}~\d{1,7}|\d{1,7}[ab]?<?)"
_STEP = rf"(?:(?:turn )?{_MOVE}(?: {_MOVE})*|=(?:{'|'.join(NOTES)}))"
LINE = re.compile(
    rf"(\d{{1,7}}) (up|down) (\d{{1,7}}) ({_NUMBER}) (\d{{1,7}}) (\d{{1,7}}\.\d): "
    rf"({_STEP}(?: \| {_STEP})*)",
    re.ASCII,  # the figures of other scripts are digits too
)
"""A row's line. Whether it matches depends on no figure's value, see `forms_of`."""
_PLACE = rf"{_NUMBER} {_NUMBER} -?\d{{1,3}}\.\d"
PLACES = re.compile(rf"{_PLACE}(?:,{_PLACE})*", re.ASCII)
"""A line of places."""


_ALIKE = bytes.maketrans(b"123456789", b"000000000")
_BLANKS = bytes(code if chr(code) in "\n0123456789" else ord(" ") for code in range(256))
_AT_ONCE = 256
"""Lines that are translated at once: as bytes, together, they are in no time."""
ROW, FIRST, PLACES_LINE, REFERENCES = 0, 1, 4, 7
"""Where among the numbers of a line that `LINE` matches the row's own stands, its first bead, its
line of places, and from where on the beads that its moves name."""


def forms_of(lines: Sequence[str]) -> tuple[str, ...]:
    """Each line with every figure made 0: what rows that differ in their numbers have in common.

    Lines of one form share it.
    """
    known: dict[bytes, str] = {}
    return tuple(
        known[form] if form in known else known.setdefault(form, form.decode("utf-8", "replace"))
        for form in _translated(lines, _ALIKE)
    )


def figures_of(lines: Sequence[str]) -> Iterator[bytes]:
    """Each line with everything but its figures made blank."""
    return _translated(lines, _BLANKS)


def _translated(lines: Sequence[str], table: bytes) -> Iterator[bytes]:
    for first in range(0, len(lines), _AT_ONCE):
        some = "\n".join(lines[first : first + _AT_ONCE])
        yield from some.encode("utf-8", "surrogatepass").translate(table).split(b"\n")


def encode_places(row: Row) -> str:
    """The places of a row's beads, from its origin."""
    origin = row.origin
    return ",".join([_place(x - origin, y, tilt) for _, _, _, _, (x, y, tilt) in row.beads])


@lru_cache(maxsize=4096)  # of the rows of a band, one lies like the other
def _place(x: float, y: float, tilt: float) -> str:
    return f"{x:.2f} {y:.2f} {tilt:.1f}".replace("-0.00", "0.00")


def encode(row: Row, letters: Mapping[str, str], first: int, places: int) -> str:
    """A row as its line. `letters` gives the letter of a shape's name.

    `first` is the number of the next bead; `places` counts from 1, 0 is for no beads.
    """
    up = row.heading == "up"
    beads = [letters[shape] + colour for _, _, shape, colour, _ in row.beads]
    moves: list[str] = []
    for passes, turn, pass_by, note, unders in row.steps:
        if moves:
            moves.append("|")
        if turn or note:
            moves.append("turn" if turn else f"={note}")
        by = pass_by
        under = {at: f"~{one}~{other}" for at, (one, other) in unders} if unders else {}
        for i, (bead, hole, goes_up, new) in enumerate(passes):
            if under and i in under:
                moves.append(under[i])
            if new:
                move = beads[bead - first]
            else:
                # Passing by is done on the way to the hole that is meant.
                if by and hole:
                    moves += [f"!{passed}" for passed in by]
                    by = ()
                move = f"{bead}{hole}"
            moves.append(move if goes_up == up else f"{move}<")
        if by:
            moves += [f"!{passed}" for passed in by]
    head = f"{row.number} {row.heading} {first} {row.origin:.2f} {places} {row.thread:.1f}"
    return f"{head}: {' '.join(moves)}"


def decode(line: str, section: str, shapes: Mapping[str, Shape], places: Sequence[str]) -> Row:
    """The row of a line that `LINE` matches; `shapes` by letter, `places` as `PLACES` matches."""
    head, _, moves = line.partition(": ")
    number, heading, first, origin, which, thread = head.split(" ")
    x0, up, next_bead = float(origin), heading == "up", int(first)
    lies = _lies(places[int(which) - 1]) if int(which) else []
    kinds = {
        letter: (shape.kind, shape.name, first_hole(shape)) for letter, shape in shapes.items()
    }
    beads: list[Bead] = []
    steps = []
    for written in moves.split(" | "):
        passes: list[Pass] = []
        pass_by = []
        under = []
        turn = False
        note: Note = ""
        for move in written.split(" "):
            if move[0] in kinds and move != "turn":
                kind, name, hole = kinds[move[0]]
                x, y, tilt = lies[len(beads)]
                place = new_place((round(x0 + x, GRAIN) + 0.0, y, tilt))
                beads.append(new_bead((next_bead, kind, name, move[1], place)))
                passes.append(new_pass((next_bead, hole, up == (len(move) == 2), True)))
                next_bead += 1
            elif move[0].isdigit():
                ahead = move.rstrip("<")
                hole = cast(Hole, ahead[-1] if ahead[-1] in "ab" else "")
                gone = (int(ahead.rstrip("ab")), hole, up == (ahead == move), False)
                passes.append(new_pass(gone))
            elif move == "turn":
                turn = True
            elif move[0] == "=":
                note = cast(Note, move[1:])
            elif move[0] == "!":
                pass_by.append(int(move[1:]))
            else:
                _, one, other = move.split("~")
                under.append(Under(len(passes), (int(one), int(other))))
        steps.append(Step(tuple(passes), turn, tuple(pass_by), note, tuple(under)))
    return Row(
        number=int(number),
        section=section,
        heading=cast(Heading, heading),
        origin=x0,
        beads=tuple(beads),
        steps=tuple(steps),
        thread=float(thread),
    )


@lru_cache(maxsize=64)  # a band has few lines of places
def _lies(line: str) -> list[tuple[float, float, float]]:
    """X from the origin and y (mm), and the tilt, of each bead of a line of places."""
    return [(float(x), float(y), float(tilt)) for x, y, tilt in map(str.split, line.split(","))]
