"""Beads counted: for a piece in hand, or for a pattern before it is started."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path
from typing import Protocol

from tracker.loading import Loaded, design_of
from tracker.pattern.model import Kind, Pattern
from tracker.pattern.packages import beads_in, package
from tracker.pattern.stock import remedies
from tracker.pattern.supplies import grams_each
from tracker.progress.state import MOST_BEADS, OnHand, Progress, apply, utc_now
from tracker.progress.stock import watched, whole_stock

_LETTER = re.compile(r"([A-Za-z]) +(.+)")


class Stocked(Protocol):
    """A piece, in hand or not yet, whose beads are counted."""

    @property
    def pattern(self) -> Pattern:
        """What is stitched."""
        ...

    @property
    def progress(self) -> Progress:
        """How far it is."""
        ...

    @property
    def read_only(self) -> bool:
        """Whether counts are refused."""
        ...

    def count(self, key: str, beads: int) -> None:
        """So many beads of a kind are on hand. Raises SaveError."""
        ...

    def alarms(self) -> tuple[str, ...]:
        """What is not saved, and why."""
        ...


class NotStarted:
    """A pattern that is not in hand yet: what is counted goes with it once it is."""

    def __init__(self, loaded: Loaded) -> None:
        self.loaded = loaded
        self.pattern = loaded.pattern
        self.progress = Progress(started=utc_now())
        self.read_only = False

    def count(self, key: str, beads: int) -> None:
        """So many beads of a kind are on hand."""
        self.progress = apply(self.pattern, self.progress, OnHand(utc_now(), key, beads))

    def alarms(self) -> tuple[str, ...]:
        """Nothing: it goes with the piece once that is begun."""
        return ()


def remedy_words(pattern: Pattern, progress: Progress, source: Path) -> tuple[str, ...]:
    """Changes to the design that fit the beads on hand, in words."""
    if not any(kind.short for kind in watched(pattern, progress)):
        return ()
    design = design_of(source, pattern)
    if design is None:
        return ("its design is not there any more: no change can be worked out",)
    done, stock = whole_stock(pattern, progress)
    found = tuple(remedy.words for remedy in remedies(design, stock, done))
    return found or ("no change of rows, stripes or colours that is known here",)


def counted_beads(text: str, chosen: str, kinds: Mapping[str, Kind]) -> tuple[str, int]:
    """A kind and how many there are of it: "61", "12.5 g" or "B 61"."""
    key, amount = chosen, text
    found = _LETTER.fullmatch(text)
    if found is not None:
        letter, amount = found[1].upper(), found[2]
        alike = [other for other in kinds if other[1] == letter]
        if not alike:
            raise ValueError(f"There is no colour {letter}")
        key = chosen if chosen in alike else alike[0]
    count = beads_in(amount, grams_each(kinds[key].shape))
    if count > MOST_BEADS:
        raise ValueError(f"Nobody has more than {MOST_BEADS} beads on hand")
    return key, count


def package_sizes(text: str) -> tuple[str, ...]:
    """Sizes of packages, parted by commas; "-" for none."""
    if text == "-":
        return ()
    sizes = tuple(size.strip() for size in text.split(","))
    for size in sizes:
        package(size, 1e-3)
    return sizes
