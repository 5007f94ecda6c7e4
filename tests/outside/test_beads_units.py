"""Lengths against pint, a library of physical units."""

from fractions import Fraction

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.design.lengths import Unit, parse_length

UNITS = pint.UnitRegistry()
PINT_NAME: dict[Unit, str] = {"mm": "millimeter", "cm": "centimeter", "m": "meter", "in": "inch"}


@given(
    unit=st.sampled_from(list(PINT_NAME)), whole=st.integers(1, 99), decimals=st.integers(0, 999)
)
def test_decimal_lengths_agree(unit: Unit, whole: int, decimals: int) -> None:
    """A decimal number with its unit is the length that pint makes of it."""
    number = f"{whole}.{decimals:03}"
    expected = (float(number) * UNITS(PINT_NAME[unit])).to("millimeter").magnitude
    assert parse_length(f"{number} {unit}") == pytest.approx(expected, rel=1e-12)


@given(whole=st.integers(0, 50), part=st.integers(1, 63), of=st.sampled_from([2, 4, 8, 16, 32, 64]))
def test_fractions_of_an_inch_agree(whole: int, part: int, of: int) -> None:
    """Inches with a fraction, as on a ruler, are the length that pint makes of them."""
    text = f"{whole} {part}/{of} in" if whole else f"{part}/{of} in"
    expected = (float(whole + Fraction(part, of)) * UNITS.inch).to("millimeter").magnitude
    assert parse_length(text) == pytest.approx(expected, rel=1e-12)
