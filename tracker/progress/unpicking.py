"""The way back from a mistake: the steps in reverse, each with what comes out and off. Pure."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby

from tracker.path.model import Pass, Step
from tracker.path.words import counted, listed
from tracker.pattern.model import Pattern
from tracker.progress.position import Position, back


@dataclass(frozen=True, slots=True)
class Undoing:
    """One step to take back: where it leaves the piece, and what to do."""

    position: Position
    """The place after it: the step that is then to be done again."""
    text: str


def unpick(pattern: Pattern, start: Position, goal: Position) -> Iterator[Undoing]:
    """The steps back from `start` to `goal`, an earlier place, last stitched first."""
    place = start
    while place > goal:
        place = back(pattern, place, "step")
        yield Undoing(place, undo_words(pattern, place))


def undo_words(pattern: Pattern, position: Position) -> str:
    """How the step at `position`, which is done, is taken back."""
    row = pattern.row(position.row)
    return _words(pattern, row.steps[position.step])


def _words(pattern: Pattern, step: Step) -> str:
    said = []
    # Against the order of the needle: what was done last comes out first.
    for picked_up, run in groupby(reversed(step.passes), key=lambda p: p.picked_up):
        passes = list(run)
        if picked_up:
            said.append(f"take off {_beads(pattern, passes)}")
        else:
            said += [f"pull the needle back out of {hole}" for hole in _holes(pattern, passes)]
    return "; ".join(said)


def _beads(pattern: Pattern, passes: list[Pass]) -> str:
    names = [_name(pattern, p.bead) for p in passes]
    return listed([counted(len(list(run)), *name) for name, run in groupby(names)])


def _holes(pattern: Pattern, passes: list[Pass]) -> Iterator[str]:
    for hole, run in groupby(passes, key=lambda p: p.hole):
        same = list(run)
        if not hole:
            n = len(same)
            yield "the lone seed" if n == 1 else f"the {n} seeds of the group"
            continue
        for p in same:
            colour, kind = _name(pattern, p.bead)
            yield f"hole {hole} of the {colour} {kind}"


def _name(pattern: Pattern, bead: int) -> tuple[str, str]:
    found = pattern.bead(bead)
    return (pattern.colour(found.colour).name, found.kind)
