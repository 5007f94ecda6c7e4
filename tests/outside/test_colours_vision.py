"""Simulated vision against what is known of it, independent of the matrices' figures."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.colours.difference import difference, lab_of
from tracker.colours.srgb import light_of
from tracker.colours.vision import VISIONS, Vision, seen


@given(st.integers(0, 255), st.sampled_from(VISIONS))
def test_greys_stay(grey: int, vision: Vision) -> None:
    """Without colour there is nothing to lose: a grey stays as it is, to a step of the screen."""
    colour = f"#{grey:02x}{grey:02x}{grey:02x}"
    shifted = np.subtract(light_of(seen(colour, vision)), light_of(colour))
    assert np.abs(shifted).max() < 0.01


@pytest.mark.parametrize("vision", ["protan", "deutan"])
def test_red_and_green_are_confused(vision: Vision) -> None:
    """Leaf and rust of one lightness, far apart to most eyes, come close (common knowledge)."""
    leaf, rust = "#6b8e23", "#b5651d"
    assert difference(leaf, rust) > 30
    assert difference(seen(leaf, vision), seen(rust, vision)) < 12


def test_blue_and_green_are_confused() -> None:
    """Without the short-wave cones blue-green and green-blue come close (common knowledge)."""
    one, other = "#2f8f8f", "#2f8f5f"
    assert difference(seen(one, "tritan"), seen(other, "tritan")) < difference(one, other) / 2


def test_a_red_goes_dark_for_protan_eyes_alone() -> None:
    """Long-wave light is dim without long-wave cones (common knowledge)."""
    red = "#ff0000"
    protan, deutan = (lab_of(seen(red, v)).lightness for v in ("protan", "deutan"))
    assert protan < lab_of(red).lightness - 10
    assert deutan > protan + 10
