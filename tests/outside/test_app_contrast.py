"""Contrast of everything that is read, by the formula of WCAG 2.2 (relative luminance, 1.4.3)."""

import re
from collections.abc import Iterable
from pathlib import Path

import pytest
from hands import at_work, design_file, design_text
from hypothesis import given
from hypothesis import strategies as st
from rich.color import Color, ColorSystem
from rich.style import Style
from textual.pilot import Pilot

from tracker.app.look import Dress
from tracker.app.tones import DARK, LIGHT, Tones
from tracker.design.model import Colour
from tracker.settings.model import Themes

MARK, AA, AAA = 3.0, 4.5, 7.0
NO_TEXT = r"[\s\u2500-\u259f◇○●▲◂▸]+"
"""Lines, blocks and marks: whatever is no letter or figure."""
STITCHING = (
    (),
    ("g",),
    ("3", "enter"),
    ("s",),
    ("r",),
    ("r", "b"),
    ("b", "f"),
    ("escape", "question_mark"),
    ("escape", "m"),
    ("escape", "i"),
    ("enter",),
    ("escape", "q"),
)
AT_THE_BENCH = (
    (),
    ("slash",),
    ("x", "y", "z"),
    ("escape", "r"),
    ("escape", "n"),
    ("tab", "tab"),
    ("f2",),
    ("escape",),
    ("x", "escape"),
    ("down", "enter"),
    ("e",),
    ("f4",),
)


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


WEARING = pytest.mark.parametrize("tones", [DARK, LIGHT], ids=lambda tones: tones.name)
NAMES = (
    *("text", "quiet", "label", "bar", "foot", "key", "notice", "alarm"),
    *("task", "task_label"),
)


def said(dress: Dress, name: str) -> Style:
    """A style of a dress by its name."""
    found = getattr(dress, name)
    return found if isinstance(found, Style) else found()


@WEARING
@pytest.mark.parametrize("name", NAMES)
def test_what_is_read_stands_out(tones: Tones, name: str) -> None:
    """Every text of the tracker's own has the enhanced contrast, 7 to 1."""
    style = said(Dress(tones=tones), name)
    assert contrast(style.color, style.bgcolor) >= AAA


@WEARING
def test_text_stands_out_on_whatever_lies_below_it(tones: Tones) -> None:
    """Where text takes the ground of its surroundings: raised, or chosen."""
    dress = Dress(tones=tones)
    for name in ("text", "quiet", "label"):
        for ground in (tones.raised, tones.chosen):
            assert contrast(said(dress, name).color, Color.parse(ground)) >= AA


@WEARING
def test_every_mark_stands_out(tones: Tones) -> None:
    """Marks on the ground 3 to 1; what is written on them, and in the rings, as text does."""
    parse = Color.parse
    for mark in (*tones.marks.targets, *tones.marks.wrongs):
        assert contrast(parse(mark), parse(tones.ground)) >= MARK
        assert contrast(parse(mark), parse(tones.sign)) >= AA
        assert contrast(parse(mark), parse(tones.hole)) >= AA
    for mark in (tones.rim, tones.metal):
        assert contrast(parse(mark), parse(tones.ground)) >= MARK
    assert contrast(parse(tones.rim), parse(tones.hole)) >= MARK


@given(st.integers(0, 0xFFFFFF))
def test_the_letter_of_any_colour_can_be_read_on_it(number: int) -> None:
    """Whatever colours a beader takes, a chip's letter has the contrast of text on it."""
    _, style = Dress().chip(Colour("A", "any", f"#{number:06x}"), "tile")

    assert contrast(style.color, style.bgcolor) >= AA


def faint(pilot: Pilot[None]) -> list[str]:
    """What is to be read on the screen with less than the contrast of text; marks are none."""
    found = []
    for strip in pilot.app.screen._compositor.render_strips():
        for text, style, _ in strip:
            read = re.sub(NO_TEXT, "", text)
            if not read:
                continue
            assert style is not None
            front, back = style.color, style.bgcolor
            if style.reverse:
                front, back = back, front
            if contrast(front, back) < AA:
                found.append(f"{text!r} {style} {contrast(front, back):.2f}")
    return found


@WEARING
async def test_everything_on_every_screen_can_be_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, tones: Tones
) -> None:
    """Each text that the app paints, with whatever its styles and widgets make of its colours."""
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.chdir(tmp_path)
    theme: Themes = "light" if tones is LIGHT else "dark"
    (tmp_path / "settings.toml").write_text(f'format = 1\ntheme = "{theme}"\n', "utf-8")
    text = design_text(3, 8).replace('lanes = "BAAAAB"', 'chart = "BAAAAB"')
    design = design_file(tmp_path, text)
    seen: set[str] = set()

    async def look(pilot: Pilot[None], *keys: str) -> None:
        await pilot.press(*keys)
        await pilot.app.workers.wait_for_complete()
        await pilot.pause()
        seen.add(type(pilot.app.screen).__name__)
        assert [] == faint(pilot), keys

    async with at_work(tmp_path, str(design), size=(100, 30), theme=theme) as pilot:
        for keys in STITCHING:
            await look(pilot, *keys)
    async with at_work(tmp_path, None, size=(100, 30), theme=theme) as pilot:
        for keys in AT_THE_BENCH:
            await look(pilot, *keys)
    assert {"Stitching", "Help", "Bench", "NewBand", "Painter", "SuppliesScreen"} <= seen
    assert {"Ask", "Choose"} <= seen


GREYS = {0, 7, 8, 15}
"""Black, white and the two greys of the 16 colours."""


@WEARING
def test_with_16_colours_marks_are_still_colours(tones: Tones) -> None:
    """The nearest of the 16, as the screen's own library finds it, is no grey, nor another mark."""

    def nearest(code: str) -> int | None:
        return Color.parse(code).downgrade(ColorSystem.STANDARD).number

    for code in (tones.label, tones.key, *tones.marks.targets, *tones.marks.wrongs):
        assert nearest(code) not in GREYS, code
    assert nearest(tones.marks.targets[0]) != nearest(tones.marks.wrongs[0])
