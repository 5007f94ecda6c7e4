"""Colours for marks on beads: whichever stand apart from all the beads of a band."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from tracker.colours.difference import difference

TARGETS = ("#ffe14d", "#4de8ff", "#ff7af0", "#8cff66")
"""For what to go through, the usual one first: bright on a dark ground."""
WRONGS = ("#ff5c5c", "#ff9e3d", "#d08cff")
"""For what to pass by."""
APART = 24.0
"""CIEDE2000 from which a thin line is seen on a bead at a glance: well over twice the difference
below which two beads are hard to tell apart. Our own reckoning."""


@lru_cache(maxsize=64)
def marks_for(beads: tuple[str, ...]) -> tuple[str, str]:
    """The colours of the marks for going through and for passing by, on beads of `#rrggbb`."""
    target = _apart(TARGETS, beads)
    return target, _apart(WRONGS, (*beads, target))


def _apart(choices: Sequence[str], others: tuple[str, ...]) -> str:
    """The first choice that stands apart from all others, or the one that comes nearest to it."""
    least = {
        choice: min((difference(choice, other) for other in others), default=APART)
        for choice in choices
    }
    good = (choice for choice in choices if least[choice] >= APART)
    return next(good, max(choices, key=least.__getitem__))
