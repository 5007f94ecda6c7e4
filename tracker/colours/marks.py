"""Colours for marks on beads: whichever stand apart from all the beads of a band."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from tracker.colours.difference import difference
from tracker.records import record


@record
class Marks:
    """What there is to choose from on one ground, the usual one first."""

    targets: tuple[str, ...]
    """For what to go through."""
    wrongs: tuple[str, ...]
    """For what to pass by."""


ON_DARK = Marks(
    targets=("#ffe14d", "#4de8ff", "#ff7af0", "#8cff66"),
    wrongs=("#ff5c5c", "#ff9e3d", "#d08cff"),
)
ON_LIGHT = Marks(
    targets=("#0046c8", "#a3007a", "#007500", "#7a4300"),
    wrongs=("#c4001d", "#8a4100", "#6a1bb3"),
)
APART = 24.0
"""CIEDE2000 from which a thin line is seen on a bead at a glance: well over twice the difference
below which two beads are hard to tell apart. Our own reckoning."""


@lru_cache(maxsize=64)
def marks_for(beads: tuple[str, ...], marks: Marks = ON_DARK) -> tuple[str, str]:
    """The colours of the marks for going through and for passing by, on beads of `#rrggbb`."""
    target = _apart(marks.targets, beads)
    return target, _apart(marks.wrongs, (*beads, target))


def _apart(choices: Sequence[str], others: tuple[str, ...]) -> str:
    """The first choice that stands apart from all others, or the one that comes nearest to it."""
    least = {
        choice: min((difference(choice, other) for other in others), default=APART)
        for choice in choices
    }
    good = (choice for choice in choices if least[choice] >= APART)
    return next(good, max(choices, key=least.__getitem__))
