"""The units of right-angle weave: four sides, shared with the units beside.

A unit is a square of four seeds. Its `far` side is the one towards which the band grows, `near` is
the far side of the unit before; its `upper` side is towards the upper edge, `lower` is the upper
side of the unit below. The needle goes round a unit one way and round every unit beside it the
other way, like meshing wheels: so each seed is always gone through the same way, and the needle
never crosses from side to opposite side, but turns a right angle at every corner.
"""

from __future__ import annotations

from typing import Literal, NamedTuple

Side = Literal["far", "upper", "near", "lower"]

_ROUND: tuple[Side, ...] = ("lower", "far", "upper", "near")
"""Anticlockwise, with the band growing to the right."""


class Spot(NamedTuple):
    """Where a seed sits: the far or the upper side of a unit; row and lane from 1.

    Row 0 has the near sides of row 1 as its far ones, lane 0 the lower edge as its upper sides.
    """

    row: int
    lane: int
    side: Literal["far", "upper"]

    @property
    def up(self) -> bool:
        """Whether an upward pass is the way in which the needle goes through it."""
        anticlockwise = (self.row + self.lane) % 2 == 0
        return anticlockwise == (self.side == "far")


class Unit(NamedTuple):
    """The unit at a row and lane, both from 1."""

    row: int
    lane: int

    @property
    def anticlockwise(self) -> bool:
        """Which way the needle goes round it."""
        return (self.row + self.lane) % 2 == 0

    def spot(self, side: Side) -> Spot:
        """The seed on a side."""
        row, lane = self
        if side == "near":
            return Spot(row - 1, lane, "far")
        if side == "lower":
            return Spot(row, lane - 1, "upper")
        return Spot(row, lane, side)

    def round_from(self, side: Side) -> tuple[Side, ...]:
        """The four sides in the order of the needle, that one first."""
        order = _ROUND if self.anticlockwise else _ROUND[::-1]
        at = order.index(side)
        return order[at:] + order[:at]


def goes_up(row: int) -> bool:
    """Whether a row is worked up; row 1 is, and then they take turns."""
    return row % 2 == 1


def lanes_in(row: int, lanes: int) -> range:
    """The lanes of a row in the order in which its units are woven."""
    return range(1, lanes + 1) if goes_up(row) else range(lanes, 0, -1)


def begins_at(unit: Unit, lanes: int) -> Side:
    """The side that the thread comes out of when a unit is begun, and through which it is closed.

    The first unit of all is picked up whole, beginning with the side that the next one shares.
    """
    if unit == (1, 1):
        return "upper" if lanes > 1 else "lower"
    if unit.row > 1 and unit.lane == lanes_in(unit.row, lanes)[0]:
        return "near"
    return "lower" if goes_up(unit.row) else "upper"


def leaves_by(unit: Unit, lanes: int) -> Side:
    """The side out of which the thread must come when it is done: the one shared with the next."""
    if unit.lane == lanes_in(unit.row, lanes)[-1]:
        return "far"
    return "upper" if goes_up(unit.row) else "lower"


def straight_on(unit: Unit) -> Spot | None:
    """The seed straight ahead where the needle must turn towards the work that is there.

    In a row after the first that is where it comes to the near side, in row 1 where it closes a
    unit that shares its lower side. There is none in the very first unit.
    """
    row, lane = unit
    if row > 1:
        return Spot(row - 1, lane if unit.anticlockwise else lane - 1, "upper")
    if lane > 1:
        return Spot(0 if unit.anticlockwise else 1, lane - 1, "far")
    return None


def on_round(unit: Unit, lanes: int) -> tuple[Side, ...]:
    """The sides that the needle goes through once more on its way to the next unit, in order."""
    order = unit.round_from(begins_at(unit, lanes))
    return order[1 : order.index(leaves_by(unit, lanes)) + 1]
