"""What a stitch asks of a design: which beads, how its width is told, what else it may say."""

from __future__ import annotations

from typing import Literal

from tracker.records import record

Across = Literal["columns", "lanes"]


@record(kw_only=True)
class Demands:
    """What a design in a stitch says; the defaults are those of two-hole herringbone."""

    tile: bool = True
    """Whether it is woven with a two-hole bead."""
    seed: bool = True
    across: Across = "columns"
    """The key that tells the width."""
    least: int = 2
    most: int = 40
    usual: int = 2
    every: int = 1
    """The width goes from `least` upwards by so many."""
    fewest_rows: int = 2
    own_seeds: bool = True
    """Whether the seeds have a colour of their own, apart from the layout."""
    in_rank: int = 2
    """Rows of beads to a line of a chart."""
    hinges: bool = False
    """Whether the numbers of seeds at the hinge and the cap may be given."""
    starts: tuple[str, ...] = ()
    """The ways to begin, the usual one first; none where there is but one."""
    closures: bool = False
    """Whether its ends can be closed with findings."""
    shaped: bool = False
    """Whether a layout may draw the outline with its colours, a line a row."""
    written: bool = False
    """Whether the design spells its rows out."""

    def fits(self, width: int) -> bool:
        """Whether a band can be so many columns or lanes wide."""
        return self.least <= width <= self.most and not (width - self.least) % self.every


USUAL = Demands()
"""What is asked of a design whose stitch is not known."""
