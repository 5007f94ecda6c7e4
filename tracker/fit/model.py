"""A wrist, the ease on it, and the band that is to go round both. Lengths in millimetres.

A flat band closed round the wrist bends: measured inside, it is shorter than it lies flat by pi
times its thickness, so a band 1.9 mm thick that lies 170 mm flat is 164 mm inside. Fit is judged
on the inside, and the closure's own length counts.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import pi
from types import MappingProxyType

from tracker.design.lengths import parse_length, written
from tracker.records import record

EASES: Mapping[str, float] = MappingProxyType({"snug": 6.0, "comfortable": 12.0, "loose": 22.0})
"""Ease on top of the wrist's girth by its name, mm: common practice (snug about 6, comfortable
about 12, loose 20 to 25)."""


@record(kw_only=True)
class Swatch:
    """A measured swatch: its rows, its length, and its width where that was measured (mm).

    It has the beads, the thread and as many columns as the band.
    """

    rows: int
    length: float
    width: float | None = None


@record(kw_only=True)
class Wish:
    """How a band is to fit, as a design says it; lengths in mm."""

    wrist: float
    """Girth of the wrist."""
    ease: float
    """What the closed band is to be longer inside than the wrist."""
    whole_repeats: bool = False
    """Whether the band ends with a whole repeat of its colours."""


@record(kw_only=True)
class Fit:
    """A wrist and the band round it; lengths in mm."""

    wrist: float
    ease: float
    thickness: float
    """Of the band: that of its tiles."""
    closure_length: float = 0.0
    """What the closure adds to the band when it is closed."""
    repeat_rows: int = 1
    """The band has a multiple of so many rows: of one, or of a whole repeat of its colours."""

    @property
    def bending(self) -> float:
        """What the closed band is shorter inside than flat."""
        return pi * self.thickness

    @property
    def target(self) -> float:
        """The length to weave."""
        return self.wrist + self.ease + self.bending - self.closure_length

    def inside(self, woven: float) -> float:
        """Inside girth of the closed band of that woven length."""
        return woven + self.closure_length - self.bending

    def ease_of(self, woven: float) -> float:
        """What a band of that woven length is longer inside than the wrist."""
        return self.inside(woven) - self.wrist


def parse_ease(text: str) -> float:
    """The ease that `text` says, mm: one of `EASES` by name, or a length such as "10 mm".

    Raises ValueError, in words for the beader, if it is neither.
    """
    known = EASES.get(text.strip())
    return parse_length(text) if known is None else known


def ease_words(ease: float) -> str:
    """An ease with its name, if it has one: "12 mm, comfortable by common practice"."""
    name = next((name for name, mm in EASES.items() if mm == ease), None)
    length = written(ease, places=1)
    return length if name is None else f"{length}, {name} by common practice"
