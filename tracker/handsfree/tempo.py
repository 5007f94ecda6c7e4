"""Going on by itself, at a set interval or at the beader's own pace. Pure; times in seconds."""

from __future__ import annotations

from tracker.records import record

BEAT = 1.0
"""Seconds between the beats of the count-in."""
SHORTEST = 1.0
"""No step is called sooner than this after the last."""


@record
class Beat:
    """What the tempo does next: count a number in, or go on (0), after so many seconds."""

    count: int
    after: float


@record
class Tempo:
    """A running tempo. `counted` beats of the count-in are behind it."""

    interval: float
    """Seconds a step."""
    count_in: int
    counted: int = 0

    def next(self) -> tuple[Beat, Tempo]:
        """The next beat, and the tempo after it."""
        left = self.count_in - self.counted
        if left > 0:
            after = 0.0 if self.counted == 0 else BEAT
            return Beat(left, after), Tempo(self.interval, self.count_in, self.counted + 1)
        # The first step is shown already when the counting begins: it has its full time.
        return Beat(0, self.interval), self


def interval(setting: float, seconds_a_row: float | None, steps: int) -> float | None:
    """Seconds a step: the setting, or learned from the pace; None where neither is known."""
    if setting:
        return max(SHORTEST, setting)
    if seconds_a_row is None:
        return None
    return max(SHORTEST, seconds_a_row / steps)
