"""The two ends of a band in two-hole herringbone: levelling, loops, weaving in.

The working end is told in the way of levelling: its rows and columns are mirrored for a band
whose last row went up, so that k = 1 ... N are the gaps in the order in which levelling fills
them, and "ahead" is the way of levelling. The end with the tail needs no levelling, for the
groups of the strung row stand there already.

Apart from the levelling seeds and the loops the needle picks nothing up: it goes along the
thread of the band, and where it turns round a corner it goes from one tile into the next whose
hole opens beside it.
"""

from __future__ import annotations

from dataclasses import dataclass

from tracker.beads.model import Shape
from tracker.design.model import NO_CLOSURE, Design
from tracker.path.builder import PathBuilder
from tracker.path.model import FIRST_END, LEVELLING, SECOND_END, Heading, Hole, Place
from tracker.path.plane import Point, chain_on_arc, heading_of, reversed_way
from tracker.stitches.herringbone_closures import EndPlan, loop_of, plan_of
from tracker.stitches.herringbone_lattice import STAND_OFF, Ahead, Lattice, Numbers
from tracker.stitches.loops import lay_loop
from tracker.stitches.needle import Move, Needle


def shapes_of(design: Design) -> dict[str, Shape]:
    """Every shape of the piece by its name: tile, seed, and the closure's findings."""
    shapes: dict[str, Shape] = {s.name: s for s in (design.own_tile, design.own_seed)}
    for working_end in (True, False):
        loop = loop_of(design.closure, design.own_seed, working_end=working_end)
        if design.closure != NO_CLOSURE and loop is not None and loop.finding is not None:
            shapes[loop.finding.name] = loop.finding
    return shapes


def close_ends(build: PathBuilder, design: Design, lattice: Lattice, rows: int) -> None:
    """Level the working end and close both ends of a band of `rows` rows (4 or more)."""
    WorkingEnd(Needle(build, design), design, lattice, rows).close()
    TailEnd(Needle(build, design), design, lattice).close()


@dataclass
class WorkingEnd:
    """The end at which the last row stands."""

    needle: Needle
    design: Design
    lattice: Lattice
    rows: int

    def __post_init__(self) -> None:
        self.columns = self.design.columns
        self.seed = self.design.own_seed
        numbers = Numbers(self.columns, self.lattice.hinge, self.lattice.cap_seeds)
        self.end = Ahead(numbers, self.rows)
        self.ahead: Heading = "up" if self.end.up else "down"
        self.back: Heading = "down" if self.end.up else "up"
        self.level_places: dict[int, list[Place]] = {}

    def close(self) -> None:
        """All rows of this end."""
        plan = plan_of(self.design.closure, self.columns, self.seed, working_end=True)
        self._levelling()
        if plan.loop is None:
            self._weave_in_at_the_corner(plan)
            return
        at = self.columns
        for number, k in enumerate(plan.columns):
            self._start_row(self.back)
            if number == 0:
                self._round_the_corner()
            self._travel(at, k, arriving=number == 0)
            self._loop(k)
            at = k
        self._start_row(self.ahead)
        n, r = self.end.numbers, self.rows
        inner = self._inner(at)
        second = [self._tile(r - 1, at, "a", ahead=True), *self._lone(r - 2, at, ahead=True)]
        if at < self.columns:
            third = [
                self._tile(r - 2, at + 1, "b", ahead=True),
                *self._lone(r - 1, at + 1, ahead=True),
            ]
        else:
            third = [
                *((bead, "", True) for bead in n.turn(r - 1)),
                self._tile(r - 1, at, "b", ahead=False),
            ]
        self.needle.weave_in(inner, second, third, finish=plan.finish)

    # --- moves --------------------------------------------------------------------------------

    def _tile(self, r: int, k: int, hole: Hole, *, ahead: bool) -> Move:
        return (self.end.tile(r, k), hole, ahead)

    def _lone(self, r: int, k: int, *, ahead: bool) -> list[Move]:
        return [(seed, "", ahead) for seed in self.end.lone(r, k, ahead=ahead)]

    def _down_the_group(self, k: int) -> list[Move]:
        """Out of the work through the levelling seeds of a gap."""
        return [(bead, "", False) for bead in reversed(self.end.level(k))]

    def _inner(self, k: int) -> list[Move]:
        """From the tile of gap k back into the work, as far as the lone seeds inside it."""
        hole: Hole = "b" if k > 1 else ""
        first = [(bead, hole, True) for bead in self.end.inner(k)]
        return [*first, *self._lone(self.rows - 1, k, ahead=True)]

    # --- rows ---------------------------------------------------------------------------------

    def _start_row(self, heading: Heading) -> None:
        origin = self.lattice.origin(self.rows + 1)
        self.needle.start_row(FIRST_END, heading, origin, self.ahead)

    def _levelling(self) -> None:
        """One more pass without tiles: seeds, the lone seeds, the tile standing out."""
        r, needle = self.rows, self.needle
        needle.start_row(LEVELLING, self.ahead, self.lattice.origin(r + 1), self.ahead)
        for k in range(1, self.columns + 1):
            self.level_places[k] = self._level_at(k)
            needle.pick_up(self.level_places[k])
            moves = self._lone(r, k, ahead=True)
            if k < self.columns:
                moves.append(self._tile(r, k + 1, "b", ahead=True))
            needle.step(*moves)
        needle.build.end_row()

    def _level_at(self, k: int) -> list[Place]:
        """The levelling seeds of gap k, from the tile below to the lone seeds."""
        lattice, up = self.lattice, self.ahead == "up"
        start = self._outer_mouth(k)
        lone = [p.y for p in lattice.lone_seeds_at(self.rows, self.end.column(k))]
        # A little outside the lone seed, whose mouth the tile beside it reaches as well.
        x = lattice.origin(self.rows) + self.seed.diameter * STAND_OFF / 2
        half = self.seed.length / 2
        end = (x, min(lone) - half if up else max(lone) + half)
        # A chain that is longer than its gap bulges out of the band: to the right of the way up.
        number = lattice.cap_seeds - lattice.hinge
        seeds = chain_on_arc(start, end, self.seed.length, number, -1 if up else 1)
        return seeds if up else list(reversed(reversed_way(seeds)))

    def _outer_mouth(self, k: int) -> Point:
        """Just off the mouth of the tile of gap k at which the levelling thread comes out."""
        tile = self.lattice.tile_at(self.rows, self.end.column(k))
        up = self.ahead == "up"
        return self.lattice.off(tile, self.lattice.mouth(tile, "b", upper=up), upper=up)

    def _round_the_corner(self) -> None:
        """From the last lone seed round the edge, and out to where the end begins again."""
        n, r, last = self.end.numbers, self.rows, self.columns
        self.needle.step(
            self._tile(r - 1, last, "b", ahead=True),
            *((bead, "", False) for bead in reversed(n.turn(r - 1))),
            *self._lone(r - 2, last, ahead=False),
            self._tile(r - 1, last, "a", ahead=False),
        )
        self.needle.step(self._tile(r, last, "a", ahead=True), *self._down_the_group(last))

    def _travel(self, at: int, to: int, *, arriving: bool) -> None:
        """Along the end from gap to gap; `arriving` out of the group of the gap that it begins in.

        After a loop the thread comes out of the tile of the gap already.
        """
        for k in range(at - 1, to - 1, -1):
            tile = [self._tile(self.rows, k + 1, "b", ahead=False)]
            if k == at - 1 and not arriving:
                tile = []
            lone = self._lone(self.rows, k, ahead=False)
            self.needle.step(*tile, *lone, *self._down_the_group(k))

    def _loop(self, k: int) -> None:
        """Out of the group of gap k, round the loop, back through its tile; then once more."""
        loop = loop_of(self.design.closure, self.seed, working_end=True)
        assert loop is not None, "an end without loops hangs none"
        half = self.seed.length / 2
        out = _mouth_of(self.level_places[k][0], half, up=self.ahead == "down")
        laid = lay_loop(loop, out, self._outer_mouth(k), 1, self.seed)
        closing = self._tile(self.rows, k, "b", ahead=False)
        made = self.needle.hang(laid)
        self.needle.step(closing)
        self.needle.build.end_row()
        self._start_row(self.back)
        round_again = [self._tile(self.rows, k, "a", ahead=True), *self._down_the_group(k)]
        self.needle.step(*self._inner(k), *round_again)
        self.needle.again(made)
        self.needle.step(closing)
        self.needle.build.end_row()

    def _weave_in_at_the_corner(self, plan: EndPlan) -> None:
        """Without a loop the thread is woven in where levelling has left it."""
        n, r, last = self.end.numbers, self.rows, self.columns
        self._start_row(self.back)
        self.needle.weave_in(
            [
                self._tile(r - 1, last, "b", ahead=True),
                *((bead, "", False) for bead in reversed(n.turn(r - 1))),
            ],
            [*self._lone(r - 2, last, ahead=False), self._tile(r - 1, last, "a", ahead=False)],
            [*self._lone(r - 1, last, ahead=False), self._tile(r - 1, last - 1, "b", ahead=False)],
            finish=plan.finish,
        )


@dataclass
class TailEnd:
    """The end at which the work was begun, closed with the tail. Ahead is up."""

    needle: Needle
    design: Design
    lattice: Lattice

    def __post_init__(self) -> None:
        self.columns = self.design.columns
        self.seed = self.design.own_seed
        self.numbers = Numbers(self.columns, self.lattice.hinge, self.lattice.cap_seeds)

    def close(self) -> None:
        """All rows of this end."""
        plan = plan_of(self.design.closure, self.columns, self.seed, working_end=False)
        n = self.numbers
        self._start_row("up")
        self.needle.build.note("stop-bead-off")
        self.needle.build.note("tail")
        first: list[Move] = [(n.tile(2, 1), "b", True), *self._lone(3, 1, up=True)]
        if plan.loop is None:
            self.needle.weave_in(
                first,
                [(n.tile(3, 1), "a", True), *self._lone(2, 1, up=True)],
                [(n.tile(2, 2), "b", True), *self._lone(3, 2, up=True)],
                finish=plan.finish,
            )
            return
        self.needle.step(
            *first, (n.tile(3, 1), "a", True), (n.tile(2, 1), "a", False), (n.tile(1, 1), "a", True)
        )
        at = 1
        for c in plan.columns:
            if c != plan.columns[0]:
                self._start_row("up")
                # After a loop the thread comes out of the next group already.
                at += 1
                self.needle.step((n.tile(1, at), "a", True))
            while at < c:
                at += 1
                self.needle.step(*self._up_the_group(at), (n.tile(1, at), "a", True))
            self._loop(c)
        self._start_row("down")
        self.needle.weave_in(
            [(n.tile(1, at), "b", False), *self._lone(2, at, up=False)],
            [(n.tile(3, at), "a", False), *self._lone(3, at, up=False)],
            [(n.tile(2, at), "b", False)],
            finish=plan.finish,
        )

    def _start_row(self, heading: Heading) -> None:
        self.needle.start_row(SECOND_END, heading, self.lattice.origin(1), "up")

    def _lone(self, r: int, c: int, *, up: bool) -> list[Move]:
        return [(seed, "", up) for seed in self.numbers.lone(r, c, up=up)]

    def _up_the_group(self, c: int) -> list[Move]:
        return [(bead, "", True) for bead in self.numbers.group(c)]

    def _loop(self, c: int) -> None:
        """Out of the tile of column c, round the loop, back through the group; then once more."""
        n, seed = self.numbers, self.seed
        loop = loop_of(self.design.closure, seed, working_end=False)
        assert loop is not None, "an end without loops hangs none"
        tile = self.lattice.tile_at(1, c)
        out = self.lattice.off(tile, self.lattice.mouth(tile, "a", upper=True), upper=True)
        group = self.lattice.group(c + 1, self.columns)[0]
        laid = lay_loop(loop, out, _mouth_of(group, seed.length / 2, up=False), -1, seed)
        made = self.needle.hang(laid)
        self.needle.step(*self._up_the_group(c + 1))
        self.needle.build.end_row()
        self._start_row("up")
        self.needle.step(
            (n.tile(1, c), "b", False),
            *self._lone(2, c, up=False),
            (n.tile(2, c), "a", False),
            (n.tile(1, c), "a", True),
        )
        self.needle.again(made)
        self.needle.step(*self._up_the_group(c + 1))
        self.needle.build.end_row()


def _mouth_of(place: Place, half: float, *, up: bool) -> Point:
    """A mouth of a seed by its place and half its length, the upper or the lower one."""
    ahead_x, ahead_y = heading_of(place.tilt)
    sign = half if up else -half
    return (place.x + sign * ahead_x, place.y + sign * ahead_y)
