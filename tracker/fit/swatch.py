"""A measured swatch in place of the prediction."""

from __future__ import annotations

from dataclasses import replace
from math import hypot

from tracker.design.lengths import written
from tracker.fit.model import Swatch
from tracker.path.gauge import Gauge
from tracker.problems import Problem, ProblemsError

MEASURING = 1.0
"""How well a swatch is measured with a tape, mm."""
_FARTHEST = 1.5
"""A pitch so many times the predicted one, or less than its inverse, is a slip of the ruler."""


def with_swatch(gauge: Gauge, swatch: Swatch) -> Gauge:
    """The gauge by a swatch of R rows: pitch = (its length - start) / R, and its width.

    The start, which a swatch cannot tell from the rows, stays as predicted. What is left of
    doubt in the pitch is the error of the tape and that of the start, taken together as
    independent errors are and spread over the R rows: about 2.5 % for 20 rows of half tiles,
    1 % for 50. Raises ProblemsError if it is no swatch of these beads.
    """
    pitch = (swatch.length - gauge.start) / swatch.rows
    problems = []
    if not gauge.pitch / _FARTHEST <= pitch <= gauge.pitch * _FARTHEST:
        expected = written(gauge.length(swatch.rows), places=0)
        what = f"{swatch.rows} rows of these beads come to about {expected}, not to "
        what += written(swatch.length)
        problems.append(Problem("gauge.length", what, "count and measure the swatch again"))
    width = gauge.width if swatch.width is None else swatch.width
    if not gauge.width / _FARTHEST <= width <= gauge.width * _FARTHEST:
        expected = written(gauge.width, places=0)
        what = f"a band of so many columns is about {expected} wide, not {written(width)}"
        mend = "measure a swatch of as many columns as the band, or leave the width out"
        problems.append(Problem("gauge.width", what, mend))
    if problems:
        raise ProblemsError(problems)
    spread = hypot(MEASURING, gauge.start_spread) / (swatch.rows * pitch)
    wide = gauge.width_spread if swatch.width is None else MEASURING / width
    return replace(
        gauge,
        pitch=pitch,
        width=width,
        pitch_spread=round(min(1.0, spread), 4),
        width_spread=round(min(1.0, wide), 4),
    )
