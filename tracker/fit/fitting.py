"""From a wrist to rows: the two nearest numbers of rows, and what each gives on the wrist. Pure."""

from __future__ import annotations

from fractions import Fraction
from math import floor
from typing import Protocol

from tracker.design.layout import repeat_rows as rows_of_a_repeat
from tracker.design.lengths import written
from tracker.design.model import Design
from tracker.fit.model import Fit, ease_words
from tracker.records import record

FEWEST_ROWS = 2
"""No band has fewer: the strung row and the return."""
_MM_IN_INCH = Fraction("25.4")
_SIXTEENTHS = 16


class Known(Protocol):
    """What is known of a band's length: a predicted gauge, or what measurements made of it."""

    @property
    def start(self) -> float:
        """Length that does not grow with the rows, mm."""
        ...

    @property
    def pitch(self) -> float:
        """Length of one row, mm."""
        ...

    def length(self, rows: float) -> float:
        """Length to expect of so many rows, mm."""
        ...

    def length_range(self, rows: float) -> tuple[float, float]:
        """The shortest and the longest to expect, mm."""
        ...


@record(kw_only=True)
class Choice:
    """A number of rows and what it comes to; lengths in mm."""

    rows: int
    length: float
    """Woven, expected."""
    length_range: tuple[float, float]
    """The shortest and the longest to expect."""
    inside: float
    """Inside girth of the closed band."""
    ease: float
    """What that is more than the wrist; below 0 the band does not close round it."""


@record(kw_only=True)
class Two:
    """The two numbers of rows between which the length to weave lies."""

    target: float
    """The length to weave, mm."""
    below: Choice
    above: Choice

    @property
    def taken(self) -> Choice:
        """The one to weave: that which comes nearer to the target, the longer of equals.

        Never one that does not close round the wrist, which a long repeat could lead to.
        """
        too_long = self.above.length - self.target
        too_short = self.target - self.below.length
        return self.below if too_short < too_long and self.below.ease >= 0 else self.above


def fit_of(design: Design, closure_length: float = 0.0) -> Fit | None:
    """The fit that a design asks for, with what its closure adds (mm); None if it asks for none."""
    wish = design.fit
    if wish is None:
        return None
    return Fit(
        wrist=wish.wrist,
        ease=wish.ease,
        thickness=design.thickness,
        closure_length=closure_length,
        repeat_rows=rows_of_a_repeat(design.layout) if wish.whole_repeats else 1,
    )


def choices(fit: Fit, known: Known, repeat_rows: int | None = None) -> Two:
    """The two nearest multiples of `repeat_rows` rows, by default of the fit's own."""
    unit = repeat_rows or fit.repeat_rows
    # A hair less than a whole row is a whole row: 0.1 + 0.2 is not 0.3.
    rows = (fit.target - known.start) / known.pitch + 1e-9
    fewest = -(-FEWEST_ROWS // unit)
    below = max(fewest, floor(rows / unit)) * unit
    return Two(
        target=fit.target,
        below=_choice(fit, known, below),
        above=_choice(fit, known, below + unit),
    )


def _choice(fit: Fit, known: Known, rows: int) -> Choice:
    length = known.length(rows)
    return Choice(
        rows=rows,
        length=length,
        length_range=known.length_range(rows),
        inside=fit.inside(length),
        ease=fit.ease_of(length),
    )


def inches(mm: float) -> str:
    """`mm` millimetres in inches as on a ruler, to the nearest sixteenth: "6 7/16 in"."""
    sixteenths = round(Fraction(mm) / _MM_IN_INCH * _SIXTEENTHS)
    whole, part = divmod(abs(sixteenths), _SIXTEENTHS)
    words = [str(whole)] if whole or not part else []
    words += [str(Fraction(part, _SIXTEENTHS))] if part else []
    return f"{'-' if sixteenths < 0 else ''}{' '.join(words)} in"


def both(mm: float) -> str:
    """A length in both units: "164 mm (6 7/16 in)"."""
    return f"{written(mm, places=0)} ({inches(mm)})"


def fit_lines(fit: Fit, known: Known) -> tuple[str, ...]:
    """The fit in words: what is to be woven and why, and the two choices."""
    two = choices(fit, known)
    why = f"wrist {both(fit.wrist)}, ease {ease_words(fit.ease)}, bending {fit.bending:.1f} mm"
    if fit.closure_length:
        why += f", less {fit.closure_length:.1f} mm of closure"
    return (
        f"to weave {both(two.target)}: {why}",
        *(_line(choice, is_taken=choice is two.taken) for choice in (two.below, two.above)),
    )


def _line(choice: Choice, *, is_taken: bool) -> str:
    low, high = choice.length_range
    ease = f"{both(choice.ease)} of ease"
    if choice.ease < 0:
        ease = f"too short by {both(-choice.ease)}: it does not close"
    return (
        f"{choice.rows} rows: {choice.length:.0f} mm woven ({low:.0f} to {high:.0f}), "
        f"inside {both(choice.inside)}, {ease}{': taken' if is_taken else ''}"
    )
