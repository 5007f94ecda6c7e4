"""Fits worked by hand, in millimetres and in inches, and by pint."""

from __future__ import annotations

import math
from typing import Any

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.design.lengths import parse_length
from tracker.fit.fitting import choices, inches
from tracker.fit.model import EASES, Fit, Swatch
from tracker.fit.swatch import with_swatch
from tracker.path.gauge import Gauge
from tracker.progress.measuring import Measurement, measured, predicted

UNITS: pint.UnitRegistry[Any] = pint.UnitRegistry()
# 15/0 and half tile: p = (2.3 + 1.1) / sqrt 2 = 2.4042; L(R) = 3.16 + 2.4042 R.
GAUGE = Gauge(
    start=3.16,
    pitch=2.4042,
    width=13.4,
    pitch_spread=0.04,
    start_spread=0.5,
    width_spread=0.06,
)


def test_a_band_that_lies_170_mm_flat_is_164_mm_inside() -> None:
    """A band 1.9 mm thick loses 3.1416 x 1.9 = 5.97 mm when it is closed."""
    fit = Fit(wrist=152.0, ease=12.0, thickness=1.9)
    assert pytest.approx(164.03, abs=0.005) == fit.inside(170.0)
    assert pytest.approx(12.03, abs=0.005) == fit.ease_of(170.0)


def test_a_wrist_of_160_mm_in_millimetres() -> None:
    """160 + 12 + 5.969 - 14 of clasp = 163.969 mm: 66.89 rows, so 66 or 67."""
    fit = Fit(wrist=160.0, ease=EASES["comfortable"], thickness=1.9, closure_length=14.0)
    two = choices(fit, GAUGE)
    assert pytest.approx(163.969, abs=0.001) == two.target
    assert (66, 67) == (two.below.rows, two.above.rows)
    # 3.16 + 66 x 2.4042 = 161.837; + 14 - 5.969 = 169.868 inside, 9.868 of ease.
    assert pytest.approx(161.837, abs=0.001) == two.below.length
    assert pytest.approx(169.868, abs=0.001) == two.below.inside
    assert pytest.approx(9.868, abs=0.001) == two.below.ease
    # A row more is 2.404 mm more everywhere; 0.5 + 0.04 x 67 x 2.4042 = 6.943 either way.
    assert pytest.approx(12.272, abs=0.001) == two.above.ease
    assert pytest.approx((157.298, 171.185), abs=0.001) == two.above.length_range
    assert two.above is two.taken


def test_a_wrist_of_six_and_a_half_inches() -> None:
    """6 1/2 in = 165.1 mm; snug: 165.1 + 6 + 5.969 = 177.069 mm = 6.971 in: 72.33 rows."""
    fit = Fit(wrist=parse_length("6 1/2 in"), ease=EASES["snug"], thickness=1.9)
    two = choices(fit, GAUGE)
    assert pytest.approx(6.971, abs=0.0005) == UNITS.Quantity(two.target, "mm").to("inch").magnitude
    assert (72, 73) == (two.below.rows, two.above.rows)
    assert two.below is two.taken
    # 72 rows are 176.262 mm, inside 170.293 mm = 6.704 in: the nearest sixteenth is 11/16.
    assert "6 11/16 in" == inches(two.below.inside)


def test_whole_repeats_of_eight_rows() -> None:
    """72.33 rows lie between 9 and 10 repeats of 8: 72 rows and 80."""
    fit = Fit(wrist=165.1, ease=6.0, thickness=1.9, repeat_rows=8)
    two = choices(fit, GAUGE)
    assert (72, 80) == (two.below.rows, two.above.rows)
    assert two.below is two.taken


def test_a_swatch_of_twenty_rows() -> None:
    """20 rows measure 53.2 mm: (53.2 - 3.16) / 20 = 2.502 mm a row, good to 1.118 / 50.04."""
    gauge = with_swatch(GAUGE, Swatch(rows=20, length=53.2, width=14.0))
    assert pytest.approx(2.502) == gauge.pitch
    assert pytest.approx(math.sqrt(1.0**2 + 0.5**2) / 50.04, abs=5e-5) == gauge.pitch_spread
    assert pytest.approx((14.0, 1 / 14), abs=5e-5) == (gauge.width, gauge.width_spread)
    # A wrist of 160 mm, comfortable: 177.969 mm are (177.969 - 3.16) / 2.502 = 69.87 rows.
    two = choices(Fit(wrist=160.0, ease=12.0, thickness=1.9), gauge)
    assert (69, 70) == (two.below.rows, two.above.rows)


def test_measurements_take_over() -> None:
    """A piece that grows by 2.6 mm a row needs fewer rows than was predicted, and is surer."""
    fit = Fit(wrist=160.0, ease=12.0, thickness=1.9)
    belief = measured(
        predicted(GAUGE), [Measurement(rows, 3.16 + 2.6 * rows, 0.5) for rows in (20, 35, 50)]
    )
    before, after = choices(fit, GAUGE), choices(fit, belief)
    assert (72, 73) == (before.below.rows, before.above.rows)  # 174.809 / 2.4042 = 72.71
    assert (67, 68) == (after.below.rows, after.above.rows)  # 174.809 / 2.6 = 67.2
    spans = [two.below.length_range[1] - two.below.length_range[0] for two in (before, after)]
    assert spans[0] > 4 * spans[1]


@given(st.floats(-50.0, 500.0))
def test_inches_to_the_nearest_sixteenth(mm: float) -> None:
    """What is said in inches is, by pint, no further off than half a sixteenth."""
    said = inches(mm)
    sign = -1.0 if said.startswith("-") else 1.0
    number = said.removeprefix("-").removesuffix(" in").split(" ")
    parts = [float(n) / float(d or 1) for n, _, d in (part.partition("/") for part in number)]
    exact = UNITS.Quantity(mm, "mm").to("inch").magnitude
    assert abs(sign * sum(parts) - exact) <= 1 / 32 + 1e-9


@pytest.mark.parametrize(
    ("mm", "said"),
    [(25.4, "1 in"), (6.35, "1/4 in"), (160.0, "6 5/16 in"), (0.0, "0 in"), (-12.7, "-1/2 in")],
)
def test_inches_as_on_a_ruler(mm: float, said: str) -> None:
    """Fractions are reduced, a whole number has none, and what reads back is a length."""
    assert said == inches(mm)
    if mm > 0:
        assert pytest.approx(mm, abs=25.4 / 32) == parse_length(said)
