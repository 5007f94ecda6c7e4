"""What a bead is to the weave: outer sizes, holes, glass. Lengths in millimetres."""

from __future__ import annotations

from typing import ClassVar

from tracker.records import record


@record(kw_only=True)
class Seed:
    """A seed bead: a ring of glass with one hole along its axis."""

    kind: ClassVar[str] = "seed"

    name: str
    diameter: float
    """Outer diameter, mm."""
    length: float
    """Size along the hole, mm: how far the thread travels inside."""
    hole: float
    """Diameter of the hole, mm."""
    per_gram: float | None = None
    """Nominal beads in a gram, where the trade gives one."""

    @property
    def passage(self) -> float:
        """How far the thread travels inside, mm."""
        return self.length


@record(kw_only=True)
class Tile:
    """A flat bead with two parallel holes, a and b."""

    kind: ClassVar[str] = "tile"

    name: str
    length: float
    """Outer size along the direction in which the holes are spaced, mm."""
    passage: float
    """How long each hole is, mm: the outer size along the holes."""
    thickness: float
    """Outer size square to both, mm."""
    hole: float
    """Diameter of each hole, mm."""
    hole_spacing: float
    """Distance between the centres of the two holes, mm."""


@record(kw_only=True)
class Finding:
    """A part of a closure that the thread goes through: a wire guard, a clasp's ring, a button."""

    kind: ClassVar[str] = "finding"

    name: str
    diameter: float
    """Outer size square to the hole, mm."""
    length: float
    """Size along the hole, mm: how far the thread travels inside."""
    hole: float
    """Diameter of the hole, mm."""
    hole_spacing: float
    """Distance between the centres of its two holes, a and b, mm; 0 for one hole alone."""

    @property
    def passage(self) -> float:
        """How far the thread travels inside, mm."""
        return self.length


Glass = Seed | Tile
"""What is bought by its colour and weighed."""
Shape = Glass | Finding
