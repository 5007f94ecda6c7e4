"""The length of a piece, from prediction to measurement. Pure; lengths in mm.

L(R) = start + pitch x R. Before anything is measured both have the prediction's mean and spread;
each measurement at a row updates them by ordinary Bayesian linear regression with a Gaussian
prior (e.g. Bishop, Pattern Recognition and Machine Learning, 2006, section 3.3). With two
unknowns that is a 2 x 2 matrix, worked out here in closed form.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from tracker.path.gauge import Gauge
from tracker.records import record


@record
class Measurement:
    """At this many rows done the piece measured so much."""

    rows: float
    length: float
    error: float = 1.0
    """How well it was measured (one standard deviation): a tape about 1, a steel rule 0.5."""


@record(kw_only=True)
class Belief:
    """What is believed of start and pitch: their means and covariance."""

    start: float
    pitch: float
    start_variance: float
    pitch_variance: float
    covariance: float

    def length(self, rows: float) -> float:
        """Expected length of so many rows."""
        return self.start + self.pitch * rows

    def deviation(self, rows: float) -> float:
        """Standard deviation of that length."""
        variance = (
            self.start_variance + 2 * rows * self.covariance + rows * rows * self.pitch_variance
        )
        return math.sqrt(max(0.0, variance))

    def length_range(self, rows: float) -> tuple[float, float]:
        """The lengths between which it lies two times in three: one deviation each way."""
        length, deviation = self.length(rows), self.deviation(rows)
        return (length - deviation, length + deviation)

    def rows_for(self, length: float) -> int:
        """The fewest rows whose expected length reaches `length`."""
        return max(0, math.ceil((length - self.start) / self.pitch - 0.01))

    def rows_range(self, length: float) -> tuple[int, int]:
        """The rows between which `length` is reached two times in three: one deviation each way."""
        rows = max(0.0, (length - self.start) / self.pitch)
        slack = self.deviation(rows) / self.pitch
        return (
            max(0, math.ceil(rows - slack - 0.01)),
            max(0, math.ceil(rows + slack - 0.01)),
        )


def predicted(gauge: Gauge) -> Belief:
    """The belief before anything is measured."""
    return Belief(
        start=gauge.start,
        pitch=gauge.pitch,
        start_variance=gauge.start_spread**2,
        pitch_variance=(gauge.pitch * gauge.pitch_spread) ** 2,
        covariance=0.0,
    )


def measured(belief: Belief, measurements: Iterable[Measurement]) -> Belief:
    """The belief after `measurements`, in any order: the outcome is the same."""
    for measurement in measurements:
        belief = _updated(belief, measurement)
    return belief


def _updated(belief: Belief, measurement: Measurement) -> Belief:
    """One measurement: the gain is the covariance with the length over the length's variance."""
    rows = measurement.rows
    start_gain = belief.start_variance + rows * belief.covariance
    pitch_gain = belief.covariance + rows * belief.pitch_variance
    variance = start_gain + rows * pitch_gain + measurement.error**2
    surprise = measurement.length - belief.length(rows)
    return Belief(
        start=belief.start + start_gain * surprise / variance,
        pitch=belief.pitch + pitch_gain * surprise / variance,
        start_variance=belief.start_variance - start_gain * start_gain / variance,
        pitch_variance=belief.pitch_variance - pitch_gain * pitch_gain / variance,
        covariance=belief.covariance - start_gain * pitch_gain / variance,
    )
