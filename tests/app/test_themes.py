"""Dark and light: which is worn, and how it is changed."""

from pathlib import Path

import pytest
from hands import at_work, design_file, design_text, shown_text
from textual.pilot import Pilot

from tracker.app.main import TrackerApp
from tracker.app.tones import DARK, LIGHT, Tones, worn
from tracker.settings.model import Themes


def grounds(pilot: Pilot[None]) -> set[str]:
    """The colours that lie below more than a fifth of the screen."""
    cells: dict[str, int] = {}
    for strip in pilot.app.screen._compositor.render_strips():
        for text, style, _ in strip:
            if style is not None and style.bgcolor is not None:
                code = style.bgcolor.get_truecolor().hex
                cells[code] = cells.get(code, 0) + len(text)
    return {code for code, number in cells.items() if number > sum(cells.values()) / 5}


@pytest.mark.parametrize(
    ("wanted", "said", "tones"),
    [
        ("dark", "0;15", DARK),
        ("light", "15;0", LIGHT),
        ("auto", "", DARK),
        ("auto", "15;0", DARK),
        ("auto", "12;8", DARK),
        ("auto", "0;15", LIGHT),
        ("auto", "0;7", LIGHT),
        ("auto", "0;default;15", LIGHT),
        ("auto", "default;default", DARK),
        ("auto", "nonsense", DARK),
    ],
)
def test_what_the_terminal_says_counts_where_nothing_is_set(
    wanted: Themes, said: str, tones: Tones
) -> None:
    """COLORFGBG as terminals write it: the last number is the ground's; 7 and 9 up are light."""
    assert tones is worn(wanted, {"COLORFGBG": said})


async def test_one_key_changes_everything(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Work and bench go over to light together, and back; the place stays."""
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.chdir(tmp_path)
    design_file(tmp_path, design_text())
    async with at_work(tmp_path, None, theme="dark") as pilot:
        assert {DARK.ground} == grounds(pilot)
        await pilot.press("enter")
        await pilot.press("space", "d")
        await pilot.pause()
        assert {LIGHT.ground} == grounds(pilot)
        assert "STEP 2 of 3" in shown_text(pilot)
        await pilot.press("q")
        await pilot.pause()
        assert {LIGHT.ground} == grounds(pilot)
        await pilot.press("n")
        await pilot.pause()
        assert {LIGHT.ground} == grounds(pilot)
        await pilot.press("escape", "enter", "d", "q")
        await pilot.pause()
        assert {DARK.ground} == grounds(pilot)


async def test_without_colours_there_is_no_theme(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """With NO_COLOR the key says so, and nothing changes."""
    monkeypatch.setenv("NO_COLOR", "1")
    async with at_work(tmp_path, str(design_file(tmp_path, design_text()))) as pilot:
        assert isinstance(pilot.app, TrackerApp)
        before = pilot.app.dress
        await pilot.press("d")
        await pilot.pause()
        assert before is pilot.app.dress
        assert "NO_COLOR is set" in shown_text(pilot)
