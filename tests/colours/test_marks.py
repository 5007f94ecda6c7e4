"""Marks on beads stand out, whatever the colours of the band."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.colours.difference import difference
from tracker.colours.marks import APART, ON_DARK, ON_LIGHT, Marks, marks_for

hexes = st.integers(0, 0xFFFFFF).map(lambda number: f"#{number:06x}")


def test_usual_marks_on_beads_that_are_no_trouble() -> None:
    """On blue and grey the usual yellow and red are kept."""
    assert (ON_DARK.targets[0], ON_DARK.wrongs[0]) == marks_for(("#27406f", "#8b9199"))


def test_gold_beads_get_another_mark() -> None:
    """Yellow on gold would be lost: the mark is one that stands apart."""
    target, wrong = marks_for(("#27406f", "#e3b04b", "#8b9199"))
    assert ON_DARK.targets[0] != target
    assert all(APART <= difference(target, bead) for bead in ("#27406f", "#e3b04b", "#8b9199"))
    assert APART <= difference(target, wrong)


def test_red_beads_get_another_cross() -> None:
    """Red on red would be lost as well."""
    _, wrong = marks_for(("#d1495b", "#20243a"))
    assert ON_DARK.wrongs[0] != wrong


@pytest.mark.parametrize("marks", [ON_DARK, ON_LIGHT], ids=["on dark", "on light"])
@given(beads=st.lists(hexes, min_size=1, max_size=4))
def test_of_the_choices_none_would_do_better(beads: list[str], marks: Marks) -> None:
    """The mark stands apart, or no other choice stands further apart."""
    target, _ = marks_for(tuple(beads), marks)
    least = {choice: min(difference(choice, bead) for bead in beads) for choice in marks.targets}
    assert least[target] >= APART or least[target] == max(least.values())
