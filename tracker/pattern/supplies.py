"""What to have ready before the first bead: beads, thread, needle."""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Collection, Iterator

from tracker.beads.catalogue import Needle, seeds
from tracker.beads.holes import needle_that_fits
from tracker.beads.mass import grams
from tracker.beads.model import Glass
from tracker.design.lengths import written
from tracker.path.plane import first_hole
from tracker.pattern.model import Pattern
from tracker.pattern.notation import PICKED_UP
from tracker.pattern.packages import Purchase, packages
from tracker.pattern.thread_plan import WEAVING_IN, plan_thread
from tracker.records import record
from tracker.stitches.herringbone_closures import findings_of

SPARE = 0.10
"""Share of beads to have beyond the count: some are misshapen, some roll away."""
_HOLE = re.compile(r"(?<![!~\d])(\d+)([ab]?)")
"""A hole gone through, in the moves of a line; a bead passed by, or a thread that the needle goes
under, has a mark before it."""


@record
class BeadSupply:
    """Beads of one shape and colour."""

    colour: str
    shape: Glass
    count: int
    with_spare: int
    grams: float
    """Mass of `with_spare` beads."""

    def purchase(self, sizes: Collection[str]) -> Purchase:
        """What to buy of them in packages of these sizes, such as "10 g" or "250 beads".

        Raises ValueError, in words, if a size is none.
        """
        return packages(self.with_spare, sizes, grams_each(self.shape))


@record
class Stretch:
    """A length of thread and the rows that are worked with it (from 0); lengths in mm."""

    first_row: int
    last_row: int
    length: float
    """What is cut."""
    worked: float
    """What goes into the work."""
    lost: float
    """What its two ends lose: the tail or weaving in, and weaving in."""

    @property
    def over(self) -> float:
        """What is cut off at its end."""
        return self.length - self.worked - self.lost


@record
class Supplies:
    """Everything for one piece. Lengths in mm."""

    beads: tuple[BeadSupply, ...]
    thread: float
    """All thread, with the tail and what the ends lose."""
    lengths: int
    """Lengths of thread to cut."""
    stretches: tuple[Stretch, ...]
    """Those lengths; after the last row of each but the last one a new one is joined."""
    needle: Needle | None
    """The thickest needle that still makes the last pass through the fullest hole."""
    findings: tuple[tuple[str, int], ...] = ()
    """Name and number of each thing that the closure takes besides."""


def supplies_of(pattern: Pattern, spare: float = SPARE) -> Supplies:
    """The supplies of a pattern, with `spare`, 0 or more, as a share of each count."""
    beads = []
    for key, kind in pattern.kinds():
        count = pattern.totals[key]
        with_spare = math.ceil(count * (1 + spare) - 1e-9)
        each = grams_each(kind.shape)
        beads.append(BeadSupply(kind.colour, kind.shape, count, with_spare, with_spare * each))
    plan = plan_thread(pattern.thread_before, pattern.thread)
    return Supplies(
        beads=tuple(beads),
        thread=plan.needed,
        lengths=plan.lengths,
        stretches=tuple(_stretches(pattern)),
        needle=needle_for(pattern),
        findings=findings_of(pattern.closure),
    )


def thread_lines(supplies: Supplies) -> Iterator[str]:
    """The lengths of thread in words: what each works, what it loses, where the next is joined."""
    for number, stretch in enumerate(supplies.stretches, start=1):
        join = "" if number == supplies.lengths else f"; join after row {stretch.last_row + 1}"
        yield (
            f"length {number}  {written(stretch.length, places=0)}: "
            f"rows {stretch.first_row + 1} to {stretch.last_row + 1} take {stretch.worked:.0f} mm, "
            f"its ends lose {stretch.lost:.0f} mm, {stretch.over:.0f} mm over{join}"
        )


def _stretches(pattern: Pattern) -> Iterator[Stretch]:
    before = pattern.thread_before
    cuts = plan_thread(before, pattern.thread).cuts
    ends = [*(cut.row for cut in cuts[1:]), pattern.row_count]
    for cut, end in zip(cuts, ends, strict=True):
        worked = before[end] - before[cut.row]
        yield Stretch(cut.row, end - 1, cut.length, worked, cut.lost + WEAVING_IN)


def grams_each(shape: Glass) -> float:
    """Mass of a bead to buy by, g: by its measures or by the trade's count, whichever is more.

    Makers differ; a few grams too many are cheaper than a band that cannot be finished.
    """
    nominal = seeds().get(shape.name)
    per_gram = nominal.per_gram if nominal is not None else None
    return max(grams(shape), 1 / per_gram if per_gram else 0.0)


def needle_for(pattern: Pattern) -> Needle | None:
    """The thickest needle for the whole piece; None if no known one passes."""
    found = [
        needle_that_fits(pattern.shapes[letter].hole, pattern.thread.diameter, passes)
        for letter, passes in fullest_holes(pattern).items()
    ]
    needles = [needle for needle in found if needle is not None]
    return min(needles, key=lambda needle: needle.eye) if len(needles) == len(found) else None


def fullest_holes(pattern: Pattern) -> dict[str, int]:
    """How often the thread goes through the fullest hole of each shape, by the shape's letter."""
    letters: list[str] = []
    through: Counter[tuple[int, str]] = Counter()
    for line in pattern.lines:
        moves = line.partition(": ")[2]
        for key in PICKED_UP.findall(moves):
            through[len(letters), first_hole(pattern.shapes[key[0]])] += 1
            letters.append(key[0])
        through.update((int(bead), hole) for bead, hole in _HOLE.findall(moves))
    fullest: dict[str, int] = {}
    for (bead, _), passes in through.items():
        letter = letters[bead]
        fullest[letter] = max(passes, fullest.get(letter, 0))
    return fullest
