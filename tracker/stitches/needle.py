"""The needle at the ends of a band: moves along finished work, loops, weaving in."""

from __future__ import annotations

from collections.abc import Sequence

from tracker.design.model import Design
from tracker.path.builder import PathBuilder
from tracker.path.model import Heading, Hole, Place
from tracker.path.notes import Note
from tracker.stitches.loops import LaidLoop

Move = tuple[int, Hole, bool]
"""Bead, hole, and whether the needle goes ahead."""


class Needle:
    """Writes moves down step by step, in whichever way the row goes."""

    def __init__(self, build: PathBuilder, design: Design) -> None:
        self.build = build
        self._seed = design.own_seed.name
        self._band_colour = design.layout.seeds
        self._colour = design.closure.colour
        self._ahead: Heading = "up"
        self._heading: Heading = "up"

    def start_row(self, section: str, heading: Heading, origin: float, ahead: Heading) -> None:
        """Begin a row; moves say whether they go in the way `ahead`."""
        self._heading, self._ahead = heading, ahead
        self.build.start_row(section, heading, origin)

    def step(self, *moves: Move) -> None:
        """Go through beads that are there, as one step."""
        self.go(moves)
        self.build.end_step()

    def go(self, moves: Sequence[Move]) -> None:
        """Go through beads that are there."""
        for bead, hole, ahead in moves:
            self.build.go_through(bead, hole, back=ahead != (self._heading == self._ahead))

    def pick_up(self, places: Sequence[Place]) -> None:
        """Pick up seeds of the band that lie in the way of the row."""
        for place in places:
            self.build.pick_up(self._seed, self._band_colour, place)

    def hang(self, laid: LaidLoop) -> list[tuple[int, Hole, bool]]:
        """Pick up a loop; returns its passes (bead, hole, upwards) for the second time round."""
        down = self._heading == "down"
        made = self._hang_seeds(laid.out)
        if laid.finding is not None:
            name, place, legs = laid.finding
            bead = self.build.pick_up(name, self._colour, place, back=down == legs[0][1])
            for hole, up in legs[1:]:
                self.build.go_through(bead, hole, back=down == up)
            made += [(bead, hole, up) for hole, up in legs]
        return [*made, *self._hang_seeds(laid.back)]

    def _hang_seeds(self, places: Sequence[Place]) -> list[tuple[int, Hole, bool]]:
        back = self._heading == "down"
        name, colour = self._seed, self._colour
        return [(self.build.pick_up(name, colour, place, back=back), "", True) for place in places]

    def again(self, made: Sequence[tuple[int, Hole, bool]]) -> None:
        """Go round a loop once more."""
        down = self._heading == "down"
        for bead, hole, up in made:
            self.build.go_through(bead, hole, back=down == up)

    def weave_in(self, *runs: Sequence[Move], finish: Sequence[Note]) -> None:
        """Weave the end in: a half-hitch knot before each run; trim, and what follows."""
        for run in runs:
            self.build.note("knot")
            self.step(*run)
        for note in ("trim", *finish):
            self.build.note(note)
        self.build.end_row()
