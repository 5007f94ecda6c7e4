"""No colour of a bead stands on the screen without its letter."""

from pathlib import Path

import pytest
from hands import at_work, design_file, design_text
from textual.pilot import Pilot

COLOURS = {"A": "#2a7f8e", "B": "#e8dcc0", "S": "#6b6f76"}


async def told(pilot: Pilot[None], *keys: str) -> tuple[set[str], set[str]]:
    """The colours of beads that are painted after these keys, and those with a letter on them."""
    await pilot.press(*keys)
    for _ in range(3):
        await pilot.app.workers.wait_for_complete()
        await pilot.pause(0.15)
    painted, lettered = set(), set()
    for strip in pilot.app.screen._compositor.render_strips():
        for text, style, _ in strip:
            if style is None:
                continue
            codes = [c.get_truecolor().hex for c in (style.color, style.bgcolor) if c is not None]
            for letter, code in COLOURS.items():
                if code in codes:
                    painted.add(letter)
                    if code == codes[-1] and letter in text.upper():
                        lettered.add(letter)
    return painted, lettered


async def test_while_stitching(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Move, picture, counters, strip; by rows; at the last row. Large print is letters itself."""
    monkeypatch.delenv("NO_COLOR", raising=False)
    design = design_file(tmp_path, design_text(3, 8))
    async with at_work(tmp_path, str(design), size=(60, 18)) as pilot:
        for keys in ((), ("g", "4", "enter"), ("space",), ("r",), ("g", "8", "enter")):
            painted, lettered = await told(pilot, *keys)
            assert painted == lettered, keys
            assert {"A", "S"} <= lettered, keys


async def test_at_the_bench_and_in_what_opens_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The pieces' strips, the supplies, the form with its preview, the chart with its own."""
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.chdir(tmp_path)
    text = design_text(3, 8).replace('lanes = "BAAAAB"', 'chart = "BAAAAB"')
    async with at_work(tmp_path, str(design_file(tmp_path, text))):
        pass
    async with at_work(tmp_path, None, size=(80, 24)) as pilot:
        for keys, there in (
            ((), {"A", "B"}),
            (("i",), {"A", "B", "S"}),
            (("q", "e"), {"A", "B"}),
            (("f4",), {"A", "B"}),
        ):
            painted, lettered = await told(pilot, *keys)
            assert painted == lettered, keys
            assert there <= lettered, keys


async def test_small_letters_are_seeds(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """In the picture a tile has a capital letter, a seed a small one."""
    monkeypatch.delenv("NO_COLOR", raising=False)
    design = design_file(tmp_path, design_text(3, 8))
    async with at_work(tmp_path, str(design), size=(100, 30)) as pilot:
        await pilot.press("g", "4", "enter")
        await pilot.pause()
        area = pilot.app.screen.query_one("#picture").region
        strips = pilot.app.screen._compositor.render_strips()[area.y : area.bottom]
        read = {
            (char, style.bgcolor.get_truecolor().hex)
            for strip in strips
            for text, style, _ in strip.crop(0, area.right)
            for char in text
            if char.isalpha() and style is not None and style.bgcolor is not None
        }
    assert {("A", COLOURS["A"]), ("B", COLOURS["B"]), ("s", COLOURS["S"])} == read
