"""What flat and tubular one-hole herringbone have in common: columns of two seeds that lean.

A column is two lanes wide. The holes run along the band, so the trade's "up through" a seed is out
of the work, the way in which it grows, and "down through" is into the work; the words here say
it so, for a row too is worked up or down, across the band.

The two seeds of a column lean together at their outer ends, where the thread goes over from one
to the other; in the row after, the thread that goes from column to column draws their inner ends
apart. About 15 degrees, more with round seeds than with cylinders (from memory). Where seeds
that lean so stand on each other, end on end, a row is a seed's length over the cosine of it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Protocol

from tracker.beads.model import Seed
from tracker.design.model import Design
from tracker.path.builder import PathBuilder
from tracker.path.gauge import Gauge
from tracker.path.model import Place
from tracker.path.plane import place
from tracker.path.wording import Run, called

LEAN = 15.0
"""Degrees by which a seed leans (from memory; it varies with tension and shape)."""
SPREAD = 0.08
"""Expected error of pitch and width, as a share: 5 % of makers and the hand's own tension."""
ALONG = -90.0
"""The tilt of a hole that runs along the band."""
LADDER = "ladder"


class PickUp(Protocol):
    """Picks up the seed of a row of seeds and a lane, both from 1, out of the work or into it."""

    def __call__(self, row: int, lane: int, *, out: bool) -> int:
        """The number of the seed."""
        ...


def pitch(seed: Seed) -> float:
    """Length along the band of one row (mm)."""
    return seed.length / math.cos(math.radians(LEAN))


def gauge(design: Design) -> Gauge:
    """Pitch and length by the seeds' length; width, of a tube its girth, by their diameter."""
    seed = design.own_seed
    return Gauge(
        start=0.0 if design.start == LADDER else pitch(seed),
        pitch=pitch(seed),
        width=design.wide * seed.diameter,
        pitch_spread=SPREAD,
        start_spread=0.5,
        width_spread=SPREAD,
    )


def lean_at(seed: Seed, row: int, lane: int) -> Place:
    """Where a leaning seed lies."""
    lean = LEAN if lane % 2 else -LEAN
    return place((row - 1) * pitch(seed), _across(seed, lane), ALONG + lean)


def upright_at(seed: Seed, lane: int) -> Place:
    """Where a seed of the ladder lies, which stands upright between its neighbours."""
    return place(0.0, _across(seed, lane), ALONG)


def _across(seed: Seed, lane: int) -> float:
    return (lane - 0.5) * seed.diameter


def longest_span(seed: Seed) -> float:
    """The longest bare thread, mm: from seed to seed beside it, and half a seed along it."""
    return seed.diameter + seed.length / 2


def through(build: PathBuilder, bead: int, *, out: bool, up: bool = True) -> None:
    """Go through a seed out of the work, or into it, in a row that is worked up or down."""
    build.go_through(bead, back=out != up)


def ladder(build: PathBuilder, lanes: int, pick_up: PickUp, *, first_out: bool) -> list[int]:
    """Seeds side by side, each pair gone round: the first row, woven in a row worked up.

    Two are picked up and gone through again; from then on one is picked up, and the needle goes
    through the one before it and the new one again. Neighbours are gone through opposite ways, so
    with an even number thread and tail leave on opposite sides. Returns the seeds by lane.
    """
    there: list[int] = []
    for lane in range(1, lanes + 1):
        out = (lane % 2 == 1) == first_out
        there.append(pick_up(1, lane, out=out))
        if lane == 1:
            continue
        through(build, there[-2], out=not out)
        through(build, there[-1], out=out)
        build.end_step()
    return there


def zigzag(build: PathBuilder, columns: int, pick_up: PickUp) -> tuple[list[int], list[int]]:
    """Two rows strung as one: of each column up one lane and down the other, four seeds.

    Told in the order of the string: one seed of the first row, two of the second, two of the first
    and so on, one of the first. Returns the seeds of both rows by lane.
    """
    rows: tuple[list[int], list[int]] = ([], [])
    for column in range(1, columns + 1):
        for row, lane in ((1, -1), (2, -1), (2, 0), (1, 0)):
            rows[row - 1].append(pick_up(row, 2 * column + lane, out=lane < 0))
        build.end_step()
    return rows


# --- words -----------------------------------------------------------------------------------


def way(run: Run) -> str:
    """Out of the work or into it, as the first pass goes."""
    return "out of the work" if run.first.up else "into the work"


def number_in_step(run: Run) -> int:
    """Which of the seeds that the step goes through the first one is, from 0."""
    for i, p in enumerate(run.step.gone_through()):
        if p is run.first:
            return i
    return 0


def ladder_through(run: Run, *, full: bool) -> str:
    """A seed of the ladder as it is sewn on: the one before the new one, and the new one."""
    new = list(run.step.picked_up())
    colour, kind = called(run.beads, run.beads.bead(run.first.bead))
    if not run.just_added:
        which = "before it"
    elif len(new) > 1:
        which = "that you picked up first" if run.first.bead == new[0] else "after it"
    else:
        which = "you just added"
    return f"the {colour} {kind} {which}, again" if full else f"{colour} {kind} {which}"


def column_through(run: Run, *, full: bool) -> str:
    """In through the second seed of the column below, out through the first of the next."""
    colour, kind = called(run.beads, run.beads.bead(run.first.bead))
    if number_in_step(run):
        which = f"the {colour} {kind} that begins the next column, {way(run)}"
        return which if full else f"{colour} {kind} of the next column, out"
    if not full:
        return f"{colour} {kind} beside, in"
    if _folds_a_string(run):
        return f"the next {colour} {kind} of the second row, {way(run)}"
    return f"the {colour} {kind} beside it, {way(run)}"


def column_pass_by(run: Run, passed: Sequence[int], *, full: bool) -> str:
    """The seed that the thread comes out of; of a string the one or two of its first row."""
    if _folds_a_string(run):
        which = "seeds of the first row" if len(passed) > 1 else "end of the first row"
        return f"the {which}" if full else which
    name = " ".join(called(run.beads, run.beads.bead(passed[0])))
    return f"the {name} that the thread comes from" if full else f"{name} with the thread"


def _folds_a_string(run: Run) -> bool:
    """Whether the seed passed by lies deeper in the work than the one gone through."""
    meant = run.beads.bead(next(run.step.gone_through()).bead)
    return any(run.beads.bead(bead).place.x < meant.place.x for bead in run.step.pass_by)
