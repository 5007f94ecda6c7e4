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
from tracker.path.model import FIRST_END, LEVELLING, SECOND_END, WOVEN, Bead, Pass, Row, Step
from tracker.path.notes import FINDING_CAUTION, NOTES

Move = Literal["pick up", "go through", "pass by", "do"]
"""The move of a phrase; "do" is for what goes through no bead."""


class Beads(Protocol):
    """Where the words find a bead and the name of a colour."""

    def bead(self, bead: int, /) -> Bead:
        """The bead of that number."""
        ...

    def colour(self, letter: str, /) -> Colour:
        """The colour of that letter."""
        ...

    def section_of(self, bead: int, /) -> str:
        """The section in which that bead is picked up."""
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
        verb = "" if part.move == "do" else part.move + " "
        if part.back:
            verb = "go back through "
        if not full and not part.back:
            verb = "past " if part.move == "pass by" else ""
        said.append(verb + part.text)
    return ("turn: " if turn else "") + "; ".join(said)


def step_sentence(beads: Beads, row: Row, step: Step, *, full: bool) -> str:
    """A whole step as one sentence."""
    return sentence(phrases(beads, row, step, full=full), turn=step.turn, full=full)


def caution(beads: Beads, step: Step) -> str:
    """What to be careful of in a step, "" for nothing in particular."""
    if step.note:
        return NOTES[step.note].caution
    picked_up = (beads.bead(bead) for bead in step.picked_up())
    return FINDING_CAUTION if any(bead.kind == "finding" for bead in picked_up) else ""


def name_of(beads: Beads, bead: Bead) -> str:
    """A bead as it is called: `ivory seed`, or a finding by its own name."""
    return bead.shape if bead.kind == "finding" else " ".join(called(beads, bead))


def called(beads: Beads, bead: Bead) -> tuple[str, str]:
    """Colour and kind of a bead, in words; of a finding, which has no colour, the name alone."""
    if bead.kind == "finding":
        return ("", bead.shape)
    return (beads.colour(bead.colour).name, bead.kind)


def counted(number: int, colour: str, kind: str) -> str:
    """`1 ivory seed`, `3 ivory seeds`; without a colour `1 wire guard`."""
    named = f"{colour} {kind}" if colour else kind
    return f"{number} {named}{'' if number == 1 else 's'}"


def listed(parts: list[str], last: str = " and ") -> str:
    """`a`, `a and b`, `a, b and c`."""
    return last.join([", ".join(parts[:-1]), parts[-1]] if len(parts) > 1 else parts)


def _phrases(beads: Beads, row: Row, step: Step, full: bool) -> Iterator[Phrase]:
    if step.note:
        words = NOTES[step.note]
        yield Phrase("do", words.full if full else words.short, ())
        return
    waiting = step.pass_by
    for picked_up, run in groupby(step.passes, key=lambda p: p.picked_up):
        passes = list(run)
        if picked_up:
            yield _pick_up(beads, passes, full)
            continue
        for same in _runs(beads, row, passes):
            if is_closing(row):
                yield _along(beads, same, full)
            elif same[0].hole:
                # What lies in the way is named before the hole that is meant.
                if waiting:
                    yield _pass_by(beads, waiting, full)
                    waiting = ()
                yield _through_tile(beads, row, step, same[0], full)
            else:
                yield _through_seeds(same, full)
    if waiting:
        yield _pass_by(beads, waiting, full)


def is_closing(row: Row) -> bool:
    """Whether the needle goes along finished work in this row, at one of the two ends."""
    return row.section not in WOVEN and row.section != LEVELLING


def runs_through(beads: Beads, row: Row, step: Step) -> Iterator[list[Pass]]:
    """The passes of a step through beads that are there, in the runs that make one move each."""
    for picked_up, run in groupby(step.passes, key=lambda p: p.picked_up):
        if not picked_up:
            yield from _runs(beads, row, list(run))


def _runs(beads: Beads, row: Row, passes: list[Pass]) -> Iterator[list[Pass]]:
    closing = is_closing(row)

    def alike(numbered: tuple[int, Pass]) -> tuple[object, ...]:
        # Every hole is a move of its own, seeds next to each other are one.
        i, p = numbered
        if p.hole or (closing and beads.bead(p.bead).kind != "seed"):
            return (i,)
        return (p.up, _in_loop(beads, p.bead), *_name(beads, p.bead)) if closing else ()

    for _, run in groupby(enumerate(passes), key=alike):
        yield [p for _, p in run]


def _in_loop(beads: Beads, bead: int) -> bool:
    return beads.section_of(bead) in (FIRST_END, SECOND_END)


def _name(beads: Beads, bead: int) -> tuple[str, str]:
    return called(beads, beads.bead(bead))


def _pick_up(beads: Beads, passes: list[Pass], full: bool) -> Phrase:
    parts = []
    for name, run in groupby(passes, key=lambda p: _name(beads, p.bead)):
        same = list(run)
        parts.append(counted(len(same), *name))
        if full and beads.bead(same[0].bead).kind == "finding" and same[0].hole:
            parts[-1] += f" by one {_part(name[1])}"
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


def _along(beads: Beads, same: list[Pass], full: bool) -> Phrase:
    """A run along finished work: seeds of one colour, or one hole, and which way."""
    first = same[0]
    found = beads.bead(first.bead)
    way = "upwards" if first.up else "downwards"
    colour, kind = called(beads, found)
    if found.kind == "finding":
        text = _finding_again(found, first, full)
    elif found.kind == "seed":
        way = "of the loop" if _in_loop(beads, first.bead) else way
        text = f"{counted(len(same), colour, kind)} {way}"
    elif full:
        text = f"hole {first.hole} of the {colour} {kind} {way}"
    else:
        text = f"hole {first.hole} of {colour} {way}"
    return Phrase("go through", text, tuple(p.bead for p in same))


def _finding_again(found: Bead, p: Pass, full: bool) -> str:
    """A finding that hangs on the thread already."""
    if not p.hole:
        return f"the {found.shape}" if full else found.shape
    which = "the other" if p.hole == "b" else "one"
    part = f"{which} {_part(found.shape)}"
    return f"{part} of the {found.shape}" if full else part


def _part(finding: str) -> str:
    """What the two ways through a finding are called."""
    return "leg" if finding == "wire guard" else "hole"
