"""With NO_COLOR everything is told by letters, marks, bold and reverse."""

from pathlib import Path

import pytest
from hands import at_work, design_file, design_text, region_of, shown_lines, shown_text
from textual.pilot import Pilot


@pytest.fixture(autouse=True)
def no_colour(monkeypatch: pytest.MonkeyPatch) -> None:
    """The variable that asks for no colour."""
    monkeypatch.setenv("NO_COLOR", "1")


@pytest.fixture
def design(tmp_path: Path) -> str:
    """A band of 3 columns and 8 rows."""
    return str(design_file(tmp_path, design_text(3, 8)))


def coloured(pilot: Pilot[None]) -> list[str]:
    """Pieces of the screen that have a colour, as sent to the terminal."""
    strips = pilot.app.screen._compositor.render_strips()
    return [
        f"{segment.text!r} {segment.style}"
        for strip in strips
        for segment in strip
        if segment.style is not None
        and (
            (segment.style.color is not None and not segment.style.color.is_default)
            or (segment.style.bgcolor is not None and not segment.style.bgcolor.is_default)
        )
    ]


async def test_no_screen_has_a_colour(tmp_path: Path, design: str) -> None:
    """Stitching, by rows, with a notice, going to a row and the help: not one colour."""
    async with at_work(tmp_path, design, size=(100, 40)) as pilot:
        for keys in ((), ("g", "3", "enter"), ("s",), ("r",), ("g",), ("escape", "question_mark")):
            await pilot.press(*keys)
            await pilot.pause()
            assert [] == coloured(pilot)


async def test_letters_and_marks_tell_all(tmp_path: Path, design: str) -> None:
    """Tiles have their letters, holes to go through their numbers, the full tile its cross."""
    async with at_work(tmp_path, design, size=(100, 40)) as pilot:
        await pilot.press("g", "3", "enter")
        await pilot.pause()
        text = shown_text(pilot)
        assert "1 (S) smoke seed then 1 [ A ] lagoon tile" in text
        assert "✕ [ A ] the full lagoon tile behind it" in text
        area = region_of(pilot, "#picture")
        picture = "".join(
            line[area.x : area.right] for line in shown_lines(pilot)[area.y : area.bottom]
        )
        assert {"A", "B", "1", "2", "\N{BOX DRAWINGS LIGHT DIAGONAL CROSS}", "○", "●"} <= set(
            picture
        )
        band = region_of(pilot, "#band")
        strip = "".join(shown_lines(pilot)[band.y : band.bottom - 1])
        # What is woven in capitals, what is to come in small letters.
        assert {"A", "B", "a", "b"} <= set(strip)


async def test_the_number_of_a_hole_stands_out(tmp_path: Path, design: str) -> None:
    """Numbers beside the move and in the picture are reversed."""
    async with at_work(tmp_path, design, size=(100, 40)) as pilot:
        await pilot.press("g", "3", "enter")
        await pilot.pause()
        strips = pilot.app.screen._compositor.render_strips()
        reversed_ = [
            s.text.strip() for strip in strips for s in strip if s.style and s.style.reverse
        ]
        assert 2 == reversed_.count("1")
        assert 2 == reversed_.count("2")
        assert 1 == reversed_.count("✕")


async def test_the_choice_at_the_bench_stands_out(
    tmp_path: Path, design: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The highlighted line is underlined, and no line has a colour."""
    monkeypatch.chdir(Path(design).parent)
    async with at_work(tmp_path, None) as pilot:
        await pilot.pause()
        assert [] == coloured(pilot)
        strips = pilot.app.screen._compositor.render_strips()
        lit = [s.text for strip in strips[1:-1] for s in strip if s.style and s.style.underline]
        assert "harbour.design.toml" in "".join(lit)
        assert 1 == "".join(lit).count(".toml")
