"""The beads on hand, watched while they are stitched: how many, and how far they reach. Pure.

What was counted at one place is followed to every other: stitching takes from it, unpicking gives
back, beads lost are gone.
"""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter

from tracker.pattern.model import Pattern
from tracker.progress.position import Position
from tracker.progress.state import Progress
from tracker.records import record


@record
class Watched:
    """A kind of bead that was counted, by shape's and colour's letter ("tA")."""

    key: str
    on_hand: int
    """Beads there are now, beside those in the work."""
    to_go: int
    """Beads still to pick up."""
    reaches_row: int | None
    """The last row, as people count, that can be finished with them (0: not even the first);
    None if they last to the end."""

    @property
    def short(self) -> int:
        """Beads that are missing."""
        return max(0, self.to_go - self.on_hand)


def watched(pattern: Pattern, progress: Progress) -> tuple[Watched, ...]:
    """Every kind that was counted and that the pattern has, in the order of its supplies."""
    counts = {counted.key: counted for counted in progress.on_hand}
    now = picked_up_before(pattern, progress.position)
    found = []
    for key, _ in pattern.kinds():
        if key in counts:
            then = picked_up_before(pattern, counts[key].position)
            on_hand = max(0, counts[key].beads - (now[key] - then[key]))
            to_go = pattern.totals[key] - now[key]
            reaches = None if on_hand >= to_go else _reach(pattern, key, now[key] + on_hand)
            found.append(Watched(key, on_hand, to_go, reaches))
    return tuple(found)


def shortages(pattern: Pattern, progress: Progress) -> tuple[Watched, ...]:
    """Those of `watched` that do not last to the end."""
    return tuple(kind for kind in watched(pattern, progress) if kind.short)


def picked_up_before(pattern: Pattern, position: Position) -> Counter[str]:
    """Beads picked up before a place, by shape's and colour's letter."""
    before = pattern.beads_before
    picked_up = Counter({key: count[position.row] for key, count in before.items()})
    if position.step:
        letters = {shape.name: letter for letter, shape in pattern.shapes.items()}
        row_in_hand = pattern.row(position.row)
        for step in row_in_hand.steps[: position.step]:
            for number in step.picked_up():
                bead = row_in_hand.beads[number - row_in_hand.beads[0].id]
                if bead.kind != "finding":
                    picked_up[letters[bead.shape] + bead.colour] += 1
    return picked_up


def _reach(pattern: Pattern, key: str, beads: int) -> int:
    """The rows, from the first on, that so many beads of a kind last for."""
    return bisect_right(pattern.beads_before[key], beads) - 1


def whole_stock(pattern: Pattern, progress: Progress) -> tuple[int, dict[str, int]]:
    """The rows done or begun, and the beads of each kind counted that the whole band may have.

    Those are the beads in the work and those on hand: what `remedies` asks for.
    """
    position = progress.position
    now = picked_up_before(pattern, position)
    done = position.row + (1 if position.step else 0)
    return done, {kind.key: now[kind.key] + kind.on_hand for kind in watched(pattern, progress)}


def stock_words(pattern: Pattern, kind: Watched) -> str:
    """`teal half tile: 61 on hand, 58 to go`, and how far they reach if that is not to the end."""
    shape, colour = pattern.shapes[kind.key[0]], pattern.colour(kind.key[1])
    words = f"{colour.name} {shape.name}: {kind.on_hand} on hand, {kind.to_go} to go"
    if kind.reaches_row is None:
        return words
    reach = f"they last to the end of row {kind.reaches_row}"
    if not kind.reaches_row:
        reach = "they do not last for the first row"
    return f"{words}: {kind.short} short, {reach}"
