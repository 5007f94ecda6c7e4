"""The thread path: which bead and which hole the needle goes through, in order.

Everything a beader does is a `Step`; steps make a `Row`; rows make the path. Beads are
numbered from 0 in the order in which they are picked up. Lengths in millimetres; x runs
along the band in the growing direction, y across it, upwards.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import partial
from typing import Literal, NamedTuple

from tracker.beads.model import Shape
from tracker.path.notes import Note
from tracker.records import record

Hole = Literal["", "a", "b"]
Heading = Literal["up", "down"]

WOVEN = ("start", "rows")
"""The sections in which the band grows, row by row."""
LEVELLING, FIRST_END, SECOND_END = "levelling", "first end", "second end"
"""The sections that close it, in this order: the working end, then the end with the tail."""


class Place(NamedTuple):
    """Where a bead lies: its centre (mm) and how far its holes are turned.

    `tilt` is in degrees, anticlockwise, from straight across the band: a hole with tilt 0
    runs up the page, and an upward pass through it leaves towards (-sin tilt, cos tilt).
    Hole b of a tile lies on the right of that direction, hole a on the left.
    """

    x: float
    y: float
    tilt: float


class Bead(NamedTuple):
    """One bead of the piece: its number, its shape's name, its colour's letter, its place."""

    id: int
    kind: str
    shape: str
    colour: str
    place: Place


class Pass(NamedTuple):
    """The needle once through one hole. A seed's hole is "". `up`: towards the upper edge."""

    bead: int
    hole: Hole
    up: bool
    picked_up: bool


class Under(NamedTuple):
    """The needle goes under the thread between two beads, before pass number `at` of its step.

    The thread hangs there on the other thread: so the needle may then go back through the bead
    that it has come out of.
    """

    at: int
    beads: tuple[int, int]


class Step(NamedTuple):
    """What is done in one movement: pick up these beads, go through those holes."""

    passes: tuple[Pass, ...]
    turn: bool = False
    """The needle turns back at the edge in this step."""
    pass_by: tuple[int, ...] = ()
    """Beads that lie in the way and must not be gone through."""
    note: Note = ""
    """What is done without a bead, such as a knot; such a step has no passes."""
    under: tuple[Under, ...] = ()
    """Threads that the needle goes under, in order."""

    def picked_up(self) -> Iterator[int]:
        """Numbers of the beads picked up, in order."""
        return (p.bead for p in self.passes if p.picked_up)

    def gone_through(self) -> Iterator[Pass]:
        """Passes through beads that were already there, in order."""
        return (p for p in self.passes if not p.picked_up)


# A long band has a million of these. From a tuple of all values they are made three times as fast
# as by their own `__new__`, which is written in Python.
new_place = partial(tuple.__new__, Place)
new_bead = partial(tuple.__new__, Bead)
new_pass = partial(tuple.__new__, Pass)
new_step = partial(tuple.__new__, Step)


def threaded_by(steps: Iterable[Step]) -> dict[int, frozenset[Hole]]:
    """The holes that these steps go through, by the number of their bead."""
    holes: dict[int, set[Hole]] = {}
    for step in steps:
        for p in step.passes:
            holes.setdefault(p.bead, set()).add(p.hole)
    return {bead: frozenset(found) for bead, found in holes.items()}


@record
class Row:
    """One pass of the needle across the band."""

    number: int
    """Counted from 1 over the whole piece."""
    section: str
    heading: Heading
    origin: float
    """x of the row's own zero, mm: rows of one kind differ by nothing else."""
    beads: tuple[Bead, ...]
    """The beads picked up in this row, in order."""
    steps: tuple[Step, ...]
    thread: float = 0.0
    """Thread that the row takes up, inside beads and between them, mm."""


@record
class ThreadPath:
    """A whole path. `shapes` gives the measures of each shape's name that a bead may carry."""

    shapes: Mapping[str, Shape]
    rows: Sequence[Row]
    around: float = 0.0
    """Girth of a tube, whose plane is rolled up across, mm; 0 for what lies flat."""
