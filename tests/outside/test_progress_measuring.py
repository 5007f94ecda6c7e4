"""The regression of a piece's length against numpy and scipy-style normal equations."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.path.gauge import Gauge
from tracker.progress.measuring import Belief, Measurement, measured, predicted

GAUGE = Gauge(
    start=3.1577,
    pitch=2.4042,
    width=13.4,
    pitch_spread=0.04,
    start_spread=0.5,
    width_spread=0.06,
)


def by_numpy(measurements: list[Measurement]) -> tuple[np.ndarray, np.ndarray]:
    """Posterior mean and covariance of (start, pitch): the textbook formula with matrices."""
    prior_mean = np.array([GAUGE.start, GAUGE.pitch])
    prior = np.diag([GAUGE.start_spread**2, (GAUGE.pitch * GAUGE.pitch_spread) ** 2])
    rows = np.array([[1.0, m.rows] for m in measurements]).reshape(-1, 2)
    noise = np.diag([1 / m.error**2 for m in measurements])
    precision = np.linalg.inv(prior) + rows.T @ noise @ rows
    lengths = np.array([m.length for m in measurements])
    covariance = np.linalg.inv(precision)
    mean = covariance @ (np.linalg.inv(prior) @ prior_mean + rows.T @ noise @ lengths)
    return mean, covariance


def assert_agrees(belief: Belief, measurements: list[Measurement]) -> None:
    """Means and covariances are the same by both ways."""
    mean, covariance = by_numpy(measurements)
    assert mean == pytest.approx([belief.start, belief.pitch], rel=1e-6)
    ours = [
        [belief.start_variance, belief.covariance],
        [belief.covariance, belief.pitch_variance],
    ]
    assert covariance == pytest.approx(np.array(ours), rel=1e-5, abs=1e-12)


def test_one_measurement_at_row_10_shifts_the_pitch_a_little() -> None:
    """29 mm at row 10, where 27.2 were predicted: the pitch moves towards it, not all the way."""
    belief = measured(predicted(GAUGE), [Measurement(10, 29.0)])
    assert GAUGE.pitch < belief.pitch < (29.0 - GAUGE.start) / 10
    assert_agrees(belief, [Measurement(10, 29.0)])


def test_three_measurements_settle_it() -> None:
    """At rows 20, 35 and 50 a band of 2.5 mm a row is believed to be that to half a per cent."""
    lengths = [Measurement(rows, 3.2 + 2.5 * rows) for rows in (20, 35, 50)]
    belief = measured(predicted(GAUGE), lengths)
    assert pytest.approx(2.5, rel=0.005) == belief.pitch
    assert math.sqrt(belief.pitch_variance) < 0.25 * GAUGE.pitch * GAUGE.pitch_spread
    assert_agrees(belief, lengths)


@given(
    st.lists(
        st.builds(
            Measurement,
            st.integers(1, 400).map(float),
            st.floats(5, 1200),
            st.sampled_from([0.5, 1.0]),
        ),
        max_size=6,
    )
)
def test_any_measurements_agree_with_the_matrix_formula(measurements: list[Measurement]) -> None:
    """Whatever is measured, one after the other or all at once by matrices comes to the same."""
    assert_agrees(measured(predicted(GAUGE), measurements), measurements)


def test_the_order_does_not_matter() -> None:
    """The same measurements in another order lead to the same belief."""
    lengths = [Measurement(20, 52.0), Measurement(35, 88.0, 0.5), Measurement(50, 124.0)]
    one = measured(predicted(GAUGE), lengths)
    other = measured(predicted(GAUGE), reversed(lengths))
    assert one.length(62) == pytest.approx(other.length(62))
    assert one.deviation(62) == pytest.approx(other.deviation(62))


def test_rows_and_range_of_a_worked_example() -> None:
    """150 mm by the prediction: 62 rows; one deviation of the length there is 5.9 mm, 2.5 rows."""
    belief = predicted(GAUGE)
    rows = (150 - 3.1577) / 2.4042  # 61.08
    deviation = math.sqrt(0.5**2 + (rows * 2.4042 * 0.04) ** 2) / 2.4042
    assert math.ceil(rows) == belief.rows_for(150)
    assert (math.ceil(rows - deviation), math.ceil(rows + deviation)) == belief.rows_range(150)
