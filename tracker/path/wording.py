"""How a stitch speaks of the beads that the needle goes through, and of those that it passes by.

The trade calls a bead by what it is in the work: the lone seed, the bead standing out. What that
is depends on the stitch, so each brings its own words; those here do for any.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from typing import Protocol

from tracker.design.model import Colour
from tracker.path.band import Band
from tracker.path.model import Bead, Pass, Row, Step
from tracker.records import record


class Beads(Protocol):
    """Where the words find a bead, the name of a colour and the stitch's own words."""

    def bead(self, bead: int, /) -> Bead:
        """The bead of that number."""
        ...

    def colour(self, letter: str, /) -> Colour:
        """The colour of that letter."""
        ...

    def section_of(self, bead: int, /) -> str:
        """The section in which that bead is picked up."""
        ...

    @property
    def wording(self) -> Wording:
        """How the stitch speaks."""
        ...

    @property
    def band(self) -> Band:
        """What is woven."""
        ...


@record
class Run:
    """Passes of a step, one after the other, that are told as one move."""

    beads: Beads
    row: Row
    step: Step
    passes: Sequence[Pass]

    @property
    def first(self) -> Pass:
        """The first of them."""
        return self.passes[0]

    @property
    def new(self) -> bool:
        """Whether the bead was picked up in this row."""
        return bool(self.row.beads) and self.first.bead >= self.row.beads[0].id

    @property
    def just_added(self) -> bool:
        """Whether the bead was picked up in this step."""
        return any(p.picked_up and p.bead == self.first.bead for p in self.step.passes)


def seeds_together(run: Run) -> Hashable:
    """What makes one move of consecutive passes: seeds in a row; every hole of a tile is its own.

    `run` holds a single pass; passes of an equal answer go together. None stands alone.
    """
    return None if run.first.hole else "seeds"


def through(run: Run, *, full: bool) -> str:
    """Beads by colour and kind: `the 2 teal seeds`, `hole b of the ivory tile`."""
    found = [run.beads.bead(p.bead) for p in run.passes]
    names = {called(run.beads, bead) for bead in found}
    colour, kind = called(run.beads, found[0]) if len(names) == 1 else ("", found[0].kind)
    which = " you just added" if full and run.just_added else ""
    if run.first.hole:
        hole = f"hole {run.first.hole} of "
        return f"{hole}the {colour} {kind}{which}" if full else f"{hole}{colour}"
    said = counted(len(found), colour, kind)
    if len(found) == 1:
        said = said.removeprefix("1 ")
    return f"the {said}{which}" if full else said


def under(run: Run, between: tuple[int, int], *, full: bool) -> str:
    """The thread between two beads."""
    names = [" ".join(called(run.beads, run.beads.bead(bead))) for bead in between]
    if names[0] == names[1]:
        return f"the thread between the 2 {names[0]}s" if full else f"between 2 {names[0]}s"
    both = f"the thread between the {listed([names[0], f'the {names[1]}'])}"
    return both if full else f"between {listed(names)}"


def pass_by(run: Run, passed: Sequence[int], *, full: bool) -> str:
    """Beads to pass by, by colour and kind."""
    names = [" ".join(called(run.beads, run.beads.bead(bead))) for bead in passed]
    return listed([f"the {name}" for name in names] if full else names)


@record(kw_only=True)
class Wording:
    """The words of a stitch."""

    through: Callable[..., str] = through
    """(run, full=...) -> what the needle goes through, without the verb."""
    pass_by: Callable[..., str] = pass_by
    """(run, bead numbers, full=...) -> what it passes by."""
    under: Callable[..., str] = under
    """(run after it, two bead numbers, full=...) -> the thread that it goes under."""
    together: Callable[[Run], Hashable] = seeds_together
    """(run of one pass) -> what it has in common with those told along with it, or None."""
    turning: str = "turn"
    """What the movement at the end of a row is called."""
    turns_back: bool = True
    """Whether the needle, turning, goes back through the seed that it has come by."""


PLAIN = Wording()
"""Words for any stitch."""


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
