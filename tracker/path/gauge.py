"""How long and how wide a band becomes: L(R) = start + pitch x R, with its range.

Nobody has measured the band when it is designed, so a length is always given together with
the range in which it is expected: the pitch is good to `pitch_spread` (a share of it), the
constant to `start_spread` (mm).
"""

from __future__ import annotations

import math

from tracker.records import record


@record(kw_only=True)
class Gauge:
    """What one row, and the band as a whole, measure (mm)."""

    start: float
    """Length that does not grow with the rows, mm."""
    pitch: float
    """Length along the band of one row, mm."""
    width: float
    """Across the band, over the beads, mm; of a tube the girth."""
    pitch_spread: float
    """Expected error of the pitch, as a share of it."""
    start_spread: float
    """Expected error of `start`, mm."""
    width_spread: float
    """Expected error of the width, as a share of it."""

    def length(self, rows: float) -> float:
        """Length of a band of `rows` rows, mm."""
        return self.start + self.pitch * rows

    def length_range(self, rows: float) -> tuple[float, float]:
        """Shortest and longest length to expect of `rows` rows, mm."""
        slack = self.start_spread + self.pitch * self.pitch_spread * rows
        return (self.length(rows) - slack, self.length(rows) + slack)

    def rows_for(self, length: float) -> int:
        """The fewest rows that reach `length` (mm): a band is easier to ease than to stretch."""
        return _rows(length - self.start, self.pitch)

    def rows_range(self, length: float) -> tuple[int, int]:
        """The fewest and the most rows that may be needed to reach `length` (mm)."""
        widest = self.pitch * (1 + self.pitch_spread)
        narrowest = self.pitch * (1 - self.pitch_spread)
        return (
            _rows(length - self.start - self.start_spread, widest),
            _rows(length - self.start + self.start_spread, narrowest),
        )


def _rows(length: float, pitch: float) -> int:
    # A hundredth of a row more is no row: the pitch is not known that well.
    return max(0, math.ceil(length / pitch - 0.01))
