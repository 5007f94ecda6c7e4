"""What the finished path of a stitch must come to."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field

from tracker.records import record


@record(kw_only=True)
class Expected:
    """What the path of a stitch must come to, told by formula and not by weaving it.

    `passes` has a byte a bead, by its number: how often the needle is in it when the work is
    done, over all its holes. `open_tiles` are the tiles whose hole b is then still open.
    """

    tiles: int
    seeds: int
    passes: bytes
    open_tiles: frozenset[int] = frozenset()
    passed_by: int = 0
    """How often a step names a bead to pass by."""
    hinges: frozenset[int] | None = frozenset()
    """Beads that alone hold a part of the work: lifted out, they would let it fall apart.
    None where nothing is known of that."""
    drawn: bool = True
    """Whether the places are the stitch's own: then the thread must lie flat in them."""
    longest_span: float
    """The longest piece of bare thread between two passes that the weave explains, mm."""
    round_end: float = 0.0
    """The same from one hole of a tile to its other, where that is longer, mm."""
    strings: bool = False
    """Whether what is gone through after a seed lies end to end with it, as on a string."""
    upward: bytes | None = None
    """How many of the `passes` of each bead go up; None where the needle goes to and fro: in every
    row one way, and through a seed that it meets again the other way."""
    refilled: bool = False
    """Whether the needle goes through the holes of tiles more than once while the band grows."""
    under: int = 0
    """How often the needle goes under a thread."""
    threads: tuple[tuple[int, int], ...] = ()
    """Those threads in order, each by its two beads; () where only their number is told."""
    findings: int = 0
    """Findings that the thread goes through."""
    notes: Mapping[str, int] = field(default_factory=dict)
    """How often each thing is done that goes through no bead."""
