"""The supplies on the real app: counted before starting and while stitching, and watched."""

import math
from pathlib import Path

import pytest
from hands import at_work, design_file, design_text, shown_lines, shown_text, stitching
from test_no_colour import coloured
from textual.pilot import Pilot

from tracker.app.screens.bench import Bench
from tracker.app.screens.stitching import Stitching
from tracker.app.screens.supplies import SuppliesScreen
from tracker.progress.store import Store
from tracker.settings.reader import parse_settings
from tracker.starting import take_up

ROWS = 20
"""The band has 2 columns and lanes BAAB: 20 tiles of each colour, 4 * 20 + 3 seeds."""


@pytest.fixture(autouse=True)
def design(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    """A design in a working folder of its own; the settings are those of an empty data folder."""
    folder = tmp_path / "here"
    folder.mkdir()
    monkeypatch.chdir(folder)
    monkeypatch.setenv("TRACKER_HOME", str(tmp_path))
    return str(design_file(folder, design_text(2, ROWS)))


async def answer(pilot: Pilot[None], key: str, text: str) -> None:
    """Press a key and answer its question."""
    await pilot.press(key, *text, "enter")
    await pilot.app.workers.wait_for_complete()
    await pilot.pause()


async def test_shortages_are_shown_before_starting(tmp_path: Path) -> None:
    """From the bench: counts and grams by kind, what is short and what would go; then stitched."""
    async with at_work(tmp_path, None, size=(100, 40)) as pilot:
        await pilot.press("i")
        assert isinstance(pilot.app.screen, SuppliesScreen)
        text = shown_text(pilot)
        assert "20 lagoon half tile, 22 with 10% spare" in text
        assert "83 smoke 15/0, 92 with 10% spare" in text
        assert "rows 1 to 20 take" in text
        assert "size 12 or finer" in text
        await answer(pilot, "enter", "17")
        text = shown_text(pilot)
        assert "17 on hand 3 short" in text
        assert "3 short, they last to the end of row 17" in text
        assert "weave 17 rows" in text
        assert [] == Store(tmp_path).pieces()
        await pilot.press("f5")
        assert isinstance(pilot.app.screen, Stitching)
        assert "17 on hand, 20 to go: 3 short" in shown_text(pilot)
        await pilot.press("q")
        assert isinstance(pilot.app.screen, Bench)
    with take_up("Harbour lights", Store(tmp_path)).piece as piece:
        assert [("tA", 17)] == [(c.key, c.beads) for c in piece.progress.on_hand]


async def test_the_counters_watch(tmp_path: Path, design: str) -> None:
    """While stitching: on hand goes down with the beads, a loss makes it short, with the row."""
    async with at_work(tmp_path, design, size=(100, 40)) as pilot:
        await pilot.press("g", "5", "enter")
        # 8 of each colour were picked up in four rows: 16 are to go.
        await pilot.press("i")
        await answer(pilot, "h", "16")
        await pilot.press("q")
        await pilot.pause()
        assert isinstance(pilot.app.screen, Stitching)
        assert "16 on hand" in shown_text(pilot)
        assert "SHORT" not in shown_text(pilot)
        await pilot.press("g", "6", "enter")
        assert "15 on hand" in shown_text(pilot)
        await answer(pilot, "x", "A 2")
        text = shown_text(pilot)
        assert "lagoon half tile: 13 on hand, 15 to go: 2 short" in text
        assert "SHORT 2 lagoon" in text
        assert "lasts to row 18" in text
        await pilot.press("c")
        assert "13 on hand, 15 to go" in shown_text(pilot)


async def test_another_kind_by_its_letter_and_in_grams(tmp_path: Path, design: str) -> None:
    """A letter names the kind; grams are beads by the mass of one, from its measures."""
    one = math.pi / 4 * (1.5**2 - 0.6**2) * 1.1 * 2.5 / 1000
    async with at_work(tmp_path, design, size=(100, 40)) as pilot:
        await pilot.press("i")
        await answer(pilot, "enter", "b 30")
        await answer(pilot, "enter", "S 1 g")
        counted = {c.key: c.beads for c in stitched(pilot).session.progress.on_hand}
        assert {"sS": math.floor(1 / one), "tB": 30} == counted
        for wrong, said in (("X 3", "There is no colour X"), ("much", "is no amount of beads")):
            await answer(pilot, "enter", wrong)
            assert said in shown_text(pilot)
            await pilot.press("escape")
        assert "3 g" not in shown_lines(pilot)[0]


def stitched(pilot: Pilot[None]) -> Stitching:
    """The stitching screen below the one that is shown."""
    (found,) = (s for s in pilot.app.screen_stack if isinstance(s, Stitching))
    return found


async def test_spare_and_packages_are_kept(tmp_path: Path, design: str) -> None:
    """What was typed stands in the settings, and holds when the screen is opened again."""
    async with at_work(tmp_path, design, size=(100, 40)) as pilot:
        await pilot.press("i")
        await answer(pilot, "s", "50 %")
        await answer(pilot, "p", "5 beads, 20 beads")
        await pilot.press("q", "i")
        text = shown_text(pilot)
        assert "20 lagoon half tile, 30 with 50% spare" in text
        # 30 beads are 20 and two times 5; 83 seeds and a half more are 125.
        assert "lagoon half tile: 1 x 20 beads and 2 x 5 beads, 0 over" in text
        assert "smoke 15/0: 6 x 20 beads and 1 x 5 beads, 0 over" in text
        await answer(pilot, "s", "900 %")
        assert "is no spare share" in shown_text(pilot)
        await pilot.press("escape")
        await answer(pilot, "p", "-")
        assert "x 20 beads" not in shown_text(pilot)
    kept = parse_settings(
        (tmp_path / "settings.toml").read_text("utf-8"), actions={}, commands=()
    ).supplies
    assert (0.5, ()) == (kept.spare, kept.packages)


async def test_a_broken_settings_file_is_said(tmp_path: Path, design: str) -> None:
    """The stitching goes on, and the notice names the file."""
    (tmp_path / "settings.toml").write_text("format = 1\n[supplies]\nspare = 'much'\n")
    async with at_work(tmp_path, design, size=(100, 40)) as pilot:
        await pilot.press("i")
        assert stitching(pilot)
        assert "supplies.spare: should be a share of the count" in shown_text(pilot)


async def test_a_piece_at_the_bench_is_counted_and_let_go(tmp_path: Path, design: str) -> None:
    """Counted from the bench, the piece is closed behind it and can be taken up at once."""
    take_up(design, Store(tmp_path)).piece.close()
    async with at_work(tmp_path, None, size=(100, 40)) as pilot:
        await pilot.press("i")
        await answer(pilot, "enter", "50")
        await pilot.press("escape", "enter")
        await pilot.pause()
        assert "READING ONLY" not in shown_text(pilot)
        assert "50 on hand" in shown_text(pilot)


async def test_read_only_is_not_counted(tmp_path: Path, design: str) -> None:
    """A piece that is open in another window shows its supplies and takes no counts."""
    with take_up(design, Store(tmp_path)).piece:
        async with at_work(tmp_path, design, size=(100, 40)) as pilot:
            await pilot.press("i", "enter")
            assert "Reading only" in shown_text(pilot)


@pytest.mark.parametrize("size", [(80, 24), (100, 30), (200, 60)], ids=str)
async def test_it_fits(tmp_path: Path, design: str, size: tuple[int, int]) -> None:
    """Title, every kind and the keys are on the screen at each size."""
    async with at_work(tmp_path, design, size=size) as pilot:
        await pilot.press("i")
        await pilot.pause()
        lines = shown_lines(pilot)
        assert lines[0].startswith(" Supplies of Harbour lights")
        assert {"lagoon", "sand", "smoke"} <= set(shown_text(pilot).split())
        assert "q  back" in lines[-1]


async def test_no_colour_is_used(
    tmp_path: Path, design: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """With NO_COLOR there is none, here and in the counters."""
    monkeypatch.setenv("NO_COLOR", "1")
    async with at_work(tmp_path, design, size=(80, 24)) as pilot:
        await pilot.press("i")
        await answer(pilot, "enter", "3")
        assert [] == coloured(pilot)
        assert "17 short" in shown_text(pilot)
        await pilot.press("q")
        await pilot.pause()
        assert [] == coloured(pilot)
        assert "SHORT 17 lagoon" in shown_text(pilot)
