"""Contrast of everything that is read, by the formula of WCAG 2.2 (relative luminance, 1.4.3)."""

from collections.abc import Iterable

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.color import Color
from rich.style import Style

from tracker.app.look import RAISED, Dress
from tracker.design.model import Colour

AA, AAA = 4.5, 7.0


def luminance(colour: Iterable[int]) -> float:
    """Relative luminance of red, green and blue, 0 to 255."""
    linear = [
        part / 255 / 12.92 if part / 255 <= 0.03928 else ((part / 255 + 0.055) / 1.055) ** 2.4
        for part in colour
    ]
    return sum(share * part for share, part in zip((0.2126, 0.7152, 0.0722), linear, strict=True))


def contrast(one: Color | None, other: Color | None) -> float:
    """Contrast of two colours, 1 to 21."""
    assert one is not None
    assert other is not None
    low, high = sorted(luminance(colour.get_truecolor()) for colour in (one, other))
    return (high + 0.05) / (low + 0.05)


def test_the_formula_knows_black_on_white() -> None:
    """The formula's ends: 21 for black on white, 1 for a colour on itself."""
    black, white = Color.parse("#000000"), Color.parse("#ffffff")

    assert 21.0 == pytest.approx(contrast(black, white))
    assert 1.0 == pytest.approx(contrast(white, white))


@pytest.mark.parametrize(
    "style",
    [
        Dress().text(),
        Dress().quiet,
        Dress().label,
        Dress().bar,
        Dress().foot,
        Dress().key,
        Dress().notice,
        Dress().alarm,
        Dress().target,
        Dress().task,
        Dress().task_label,
    ],
    ids=(
        *("text", "quiet", "label", "bar", "foot", "key", "notice", "alarm", "target"),
        *("task", "task label"),
    ),
)
def test_what_is_read_stands_out(style: Style) -> None:
    """Every text of the tracker's own has the enhanced contrast, 7 to 1."""
    assert contrast(style.color, style.bgcolor) >= AAA


def test_the_help_stands_out_on_its_raised_ground() -> None:
    """There too: 7 to 1."""
    for style in (Dress().text(), Dress().quiet, Dress().label):
        assert contrast(style.color, Color.parse(RAISED)) >= AAA


def test_the_bead_to_pass_by_stands_out() -> None:
    """Its cross has more than the least contrast of text."""
    assert contrast(Dress().wrong.color, Dress().wrong.bgcolor) >= AA


@given(st.integers(0, 0xFFFFFF))
def test_the_letter_of_any_colour_can_be_read_on_it(number: int) -> None:
    """Whatever colours a beader takes, a chip's letter has the contrast of text on it."""
    _, style = Dress().chip(Colour("A", "any", f"#{number:06x}"), "tile")

    assert contrast(style.color, style.bgcolor) >= AA
