"""What is woven, in the numbers that its counts are told by: a band's size and its beads."""

from __future__ import annotations

from tracker.beads.model import Seed, Tile
from tracker.design.model import NO_CLOSURE, Closure
from tracker.records import record

Outline = tuple[tuple[int, int], ...]
"""For each row how many half beads above the lowest edge it begins, and how many beads it has."""


def sampled_row(outline: Outline, row: int, letters: str, places: int) -> list[str]:
    """Letters of a row (from 0), lane 1 first, at so many places over the whole width.

    The upper edge comes first; where the row has no bead the answer is a space.
    """
    first, beads = outline[row]
    wide = max(begin + 2 * count for begin, count in outline)
    halves = (wide * (2 * (places - i) - 1) // (2 * places) - first for i in range(places))
    return [letters[at // 2] if 0 <= at < 2 * beads else " " for at in halves]


@record(kw_only=True)
class Band:
    """A band of so many lanes and woven rows; rows and lanes count from 1."""

    lanes: int
    rows: int
    tile: Tile | None = None
    seed: Seed | None = None
    hinge: int = 1
    """Seeds at each hinge of tiles."""
    cap: int = 3
    """Seeds round a tile's end, those of the hinge among them."""
    start: str = ""
    """How the work is begun, where a stitch knows several ways."""
    outline: Outline = ()
    """The rows of a band that is no rectangle; () for one that is."""
    written: tuple[str, ...] = ()
    """The rows as they are told by hand; () in every other stitch."""
    closure: Closure = NO_CLOSURE

    @property
    def columns(self) -> int:
        """The width in columns of two lanes."""
        return self.lanes // 2

    @property
    def own_tile(self) -> Tile:
        """The tile of a stitch that is woven with one."""
        assert self.tile is not None, "the stitch asks for a tile"
        return self.tile

    @property
    def own_seed(self) -> Seed:
        """The seed of a stitch that is woven with one."""
        assert self.seed is not None, "the stitch asks for a seed"
        return self.seed
