"""The tempo: counted in, then a step an interval, set or learned."""

from __future__ import annotations

import pytest

from tracker.handsfree.tempo import BEAT, SHORTEST, Tempo, interval


def test_it_counts_in_and_goes_on() -> None:
    """Three, two, one a second apart, then a step every interval."""
    tempo = Tempo(12.0, 3)
    beats = []
    for _ in range(5):
        beat, tempo = tempo.next()
        beats.append((beat.count, beat.after))
    assert [(3, 0.0), (2, BEAT), (1, BEAT), (0, 12.0), (0, 12.0)] == beats


def test_without_a_count_in_it_goes_on_at_once() -> None:
    """Count-in 0: the first beat is a step, one interval from now."""
    beat, _ = Tempo(5.0, 0).next()
    assert (0, 5.0) == (beat.count, beat.after)


@pytest.mark.parametrize(
    ("setting", "pace", "steps", "expected"),
    [
        (20.0, None, 3, 20.0),
        (20.0, 90.0, 3, 20.0),
        (0.0, 90.0, 3, 30.0),
        (0.0, None, 3, None),
        (0.0, 1.0, 3, SHORTEST),
    ],
)
def test_the_interval_is_set_or_learned(
    setting: float, pace: float | None, steps: int, expected: float | None
) -> None:
    """A setting wins; else a row's pace is shared out over its steps; else there is none."""
    assert expected == interval(setting, pace, steps)
