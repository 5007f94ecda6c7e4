"""What the finished path of a stitch must come to."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True, kw_only=True)
class Expected:
    """What the path of a stitch must come to, told by formula and not by weaving it.

    `passes` has a byte a bead, by its number: how often the needle is in it when the work is
    done, over all its holes. `open_tiles` are the tiles whose hole b is then still open.
    """

    tiles: int
    seeds: int
    passes: bytes
    open_tiles: frozenset[int]
    passed_by: int
    """How often a step names a bead to pass by."""
    hinges: frozenset[int]
    """Beads that alone hold a part of the work: lifted out, they would let it fall apart."""
    longest_span: float
    """The longest piece of bare thread between two passes that the weave explains, mm."""
    findings: int = 0
    """Findings that the thread goes through."""
    notes: Mapping[str, int] = field(default_factory=dict)
    """How often each thing is done that goes through no bead."""
