"""The words of a step, in two lengths: full for whoever is learning, short for the practised.

    pick up 1 ivory seed and 1 teal tile; go through the lone seed; pass by the full teal tile
    behind it; go through the open hole of the ivory tile standing out

    1 ivory seed, 1 teal tile; lone seed; past the full teal tile; open hole of ivory

Everything that speaks of a step (screen, plain lines, voice, printed rows) takes it from here.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby
from typing import Literal, Protocol

from tracker.design.model import Colour
from tracker.path.model import Bead, Pass, Row, Step

Move = Literal["pick up", "go through", "pass by"]


class Beads(Protocol):
    """Where the words find a bead and the name of a colour."""

    def bead(self, bead: int, /) -> Bead:
        """The bead of that number."""
        ...

    def colour(self, letter: str, /) -> Colour:
        """The colour of that letter."""
        ...


@dataclass(frozen=True, slots=True)
class Phrase:
    """One move of a step. `beads` are those it speaks of, in the order of the needle."""

    move: Move
    text: str
    """What to pick up, go through or pass by, without the verb."""
    beads: tuple[int, ...]
    back: bool = False
    """The needle goes back at the edge."""


def phrases(beads: Beads, row: Row, step: Step, *, full: bool) -> tuple[Phrase, ...]:
    """The moves of a step in the order in which they are made."""
    return tuple(_phrases(beads, row, step, full))


def sentence(parts: tuple[Phrase, ...], *, turn: bool, full: bool) -> str:
    """The moves as one sentence, without a full stop."""
    said = []
    for part in parts:
        verb = part.move + " "
        if part.back:
            verb = "go back through "
        if not full and not part.back:
            verb = {"pick up": "", "go through": "", "pass by": "past "}[part.move]
        said.append(verb + part.text)
    return ("turn: " if turn else "") + "; ".join(said)


def step_sentence(beads: Beads, row: Row, step: Step, *, full: bool) -> str:
    """A whole step as one sentence."""
    return sentence(phrases(beads, row, step, full=full), turn=step.turn, full=full)


def counted(number: int, colour: str, kind: str) -> str:
    """`1 ivory seed`, `3 ivory seeds`."""
    return f"{number} {colour} {kind}{'' if number == 1 else 's'}"


def listed(parts: list[str], last: str = " and ") -> str:
    """`a`, `a and b`, `a, b and c`."""
    return last.join([", ".join(parts[:-1]), parts[-1]] if len(parts) > 1 else parts)


def _phrases(beads: Beads, row: Row, step: Step, full: bool) -> Iterator[Phrase]:
    waiting = step.pass_by
    for picked_up, run in groupby(step.passes, key=lambda p: p.picked_up):
        passes = list(run)
        if picked_up:
            yield _pick_up(beads, passes, full)
            continue
        for in_tile, same in groupby(passes, key=lambda p: bool(p.hole)):
            if not in_tile:
                yield _through_seeds(list(same), full)
                continue
            # What lies in the way is named before the hole that is meant.
            if waiting:
                yield _pass_by(beads, waiting, full)
                waiting = ()
            for p in same:
                yield _through_tile(beads, row, step, p, full)
    if waiting:
        yield _pass_by(beads, waiting, full)


def _name(beads: Beads, bead: int) -> tuple[str, str]:
    """Colour and kind of a bead, in words."""
    found = beads.bead(bead)
    return (beads.colour(found.colour).name, found.kind)


def _pick_up(beads: Beads, passes: list[Pass], full: bool) -> Phrase:
    names = (_name(beads, p.bead) for p in passes)
    parts = [counted(len(list(run)), *name) for name, run in groupby(names)]
    text = listed(parts) if full else ", ".join(parts)
    return Phrase("pick up", text, tuple(p.bead for p in passes))


def _through_seeds(passes: list[Pass], full: bool) -> Phrase:
    number = len(passes)
    if number == 1:
        text = "the lone seed" if full else "lone seed"
    else:
        text = f"all {number} seeds of the group" if full else f"{number} seeds"
    return Phrase("go through", text, tuple(p.bead for p in passes))


def _pass_by(beads: Beads, passed: tuple[int, ...], full: bool) -> Phrase:
    names = [_name(beads, bead) for bead in passed]
    if full:
        text = listed([f"the full {colour} {kind} behind it" for colour, kind in names])
    else:
        text = listed([f"the full {colour} {kind}" for colour, kind in names])
    return Phrase("pass by", text, passed)


def _through_tile(beads: Beads, row: Row, step: Step, p: Pass, full: bool) -> Phrase:
    colour, kind = _name(beads, p.bead)
    hole = "open hole" if p.hole == "b" else "hole a"
    just_added = bool(row.beads) and p.bead >= row.beads[0].id
    if just_added:
        which = "you just added"
    elif row.section == "start":
        which = "next on the string"
    else:
        which = "standing out"
    text = f"the {hole} of the {colour} {kind} {which}" if full else f"{hole} of {colour}"
    return Phrase("go through", text, (p.bead,), back=step.turn and just_added)
