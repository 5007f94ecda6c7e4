"""Marks on beads stand out, whatever the colours of the band."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from tracker.colours.difference import difference
from tracker.colours.marks import APART, TARGETS, WRONGS, marks_for
from tracker.colours.srgb import contrast

hexes = st.integers(0, 0xFFFFFF).map(lambda number: f"#{number:06x}")


def test_usual_marks_on_beads_that_are_no_trouble() -> None:
    """On blue and grey the usual yellow and red are kept."""
    assert (TARGETS[0], WRONGS[0]) == marks_for(("#27406f", "#8b9199"))


def test_gold_beads_get_another_mark() -> None:
    """Yellow on gold would be lost: the mark is one that stands apart."""
    target, wrong = marks_for(("#27406f", "#e3b04b", "#8b9199"))
    assert TARGETS[0] != target
    assert all(APART <= difference(target, bead) for bead in ("#27406f", "#e3b04b", "#8b9199"))
    assert APART <= difference(target, wrong)


def test_red_beads_get_another_cross() -> None:
    """Red on red would be lost as well."""
    _, wrong = marks_for(("#d1495b", "#20243a"))
    assert WRONGS[0] != wrong


@given(st.lists(hexes, min_size=1, max_size=4))
def test_of_the_choices_none_would_do_better(beads: list[str]) -> None:
    """The mark stands apart, or no other choice stands further apart."""
    target, _ = marks_for(tuple(beads))
    least = {choice: min(difference(choice, bead) for bead in beads) for choice in TARGETS}
    assert least[target] >= APART or least[target] == max(least.values())


def test_numbers_on_marks_can_be_read() -> None:
    """Black on every mark has the contrast of WCAG 2.2 AA for text."""
    assert all(4.5 <= contrast("#101010", mark) for mark in (*TARGETS, *WRONGS))
