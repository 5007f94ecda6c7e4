"""Every screen in every size: it can be used, or says how much room it needs."""

import asyncio
import os
from collections.abc import Sequence
from pathlib import Path

import pytest
from hands import (
    LONG_NAMES,
    at_work,
    design_file,
    design_text,
    place_on_disk,
    place_shown,
    shown_text,
)
from textual.pilot import Pilot

from tracker.app.screens.keys import KeysApp
from tracker.app.screens.too_small import LEAST, TooSmall
from tracker.progress.position import Position

SMALL = ((20, 5), (39, 12), (40, 11), (400, 5), (20, 120), (1, 1))
ENOUGH = ((LEAST.width, LEAST.height), (133, 50), (60, 18), (400, 120))
WORK = {
    "stitching": ((), ("PICK UP", "3 (S)", "tile", "Space")),
    "by rows": (("r",), ("PICK UP", "3 tiles", "TURN", "Space")),
    "large print": (("b",), ("█", "Space", "STEP")),
    "going to a row": (("b", "g"), ("Go to the start of which row?", "Enter takes it")),
    "keys": (("escape", "question_mark"), ("Keys", "Space", "Go on")),
    "supplies": (("escape", "i"), ("Supplies of", "midnight", "Enter")),
    "on hand": (("enter",), ("How many", "Enter takes it")),
    "finding the place": (("escape", "escape", "f"), ("How many tiles stand", "Type the number")),
    "measuring": (("escape", "g", "1", "2", "enter", "m"), ("measure", "Enter takes it")),
    "thread": (("escape", "j"), ("thread", "Enter takes it")),
    "lost beads": (("escape", "x"), ("bead", "Enter takes it")),
    "taking out": (("escape", "u"), ("Where did it go wrong?", "Enter takes it")),
    "taken out": (("5", "enter"), ("TAKE OUT", "Space")),
}
BENCH = {
    "bench": ((), ("Pieces in hand", "Harbour", "Enter take up", "q quit")),
    "searching": (("slash",), ("part of a name",)),
    "renaming": (("escape", "r"), ("What shall", "Enter takes it")),
    "exporting": (("escape", "x"), ("Enter takes it",)),
    "supplies": (("escape", "i"), ("Supplies of", "midnight", "Enter")),
    "new band": (("escape", "n"), ("A new band", "Name", "Size by", "F2 save")),
    "saving it": (("f2",), ("Enter takes it",)),
    "changing one": (("escape", "escape", "e"), ("Harbour lights", "Size by", "F2 save")),
}


@pytest.fixture(autouse=True)
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    """A design with long names in the working folder."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("TRACKER_HOME", os.fspath(tmp_path))
    return str(design_file(tmp_path, design_text(3, 50, names=LONG_NAMES)))


async def resized(pilot: Pilot[None], width: int, height: int) -> str:
    """What is shown once the screen has that size."""
    await pilot.resize_terminal(width, height)
    for _ in range(200):
        # Sizes that follow each other closely are taken together, a moment later.
        if (width, height) == pilot.app.screen.size:
            break
        await asyncio.sleep(0.01)
    await pilot.pause()
    return shown_text(pilot)


async def sweep(
    pilot: Pilot[None], screens: dict[str, tuple[Sequence[str], Sequence[str]]]
) -> None:
    """Open each screen in turn, and resize it to all sizes."""
    for name, (keys, needed) in screens.items():
        await pilot.press(*keys)
        for size in ENOUGH[: 2 if keys else None]:
            text = await resized(pilot, *size)
            assert [] == [word for word in needed if word not in text], (name, size, text)
        for size in SMALL[: 1 if keys else None]:
            await resized(pilot, *size)
            assert isinstance(pilot.app.screen, TooSmall), (name, size)
        await resized(pilot, 80, 24)
        assert not isinstance(pilot.app.screen, TooSmall), name


async def test_work_in_every_size(tmp_path: Path, here: str) -> None:
    """A piece in hand and whatever can be opened over it."""
    async with at_work(tmp_path, here) as pilot:
        await sweep(pilot, WORK)


async def test_the_bench_in_every_size(tmp_path: Path, here: str) -> None:
    """The bench, and what is opened from there."""
    async with at_work(tmp_path, here):
        pass
    async with at_work(tmp_path, None) as pilot:
        await sweep(pilot, BENCH)


async def test_binding_keys_in_every_size(tmp_path: Path) -> None:
    """The screen on which keys are shown and bound."""
    app = KeysApp(tmp_path / "settings.toml", {}, "dark")
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        await sweep(
            pilot, {"keys": ((), ("Press a key", "space")), "a key": (("f5",), ("f5", "Try"))}
        )


async def test_too_small_says_what_is_needed_and_makes_no_step(tmp_path: Path, here: str) -> None:
    """Both sizes are named in five lines of twenty letters; keys do nothing but quit."""
    async with at_work(tmp_path, here, size=(20, 5)) as pilot:
        text = shown_text(pilot)
        assert f"{LEAST.width} by {LEAST.height} at least" in text
        assert "this is 20 by 5" in text
        assert "Ctrl+Q quits" in text
        await pilot.press("space", "enter", "right", "q", "g", "b")
        assert "this is 25 by 6" in await resized(pilot, 25, 6)
        await resized(pilot, 80, 24)
        assert (1, 1) == place_shown(pilot)
        await pilot.press("space")
        assert (1, 2) == place_shown(pilot)
        await resized(pilot, 20, 5)
        await pilot.press("ctrl+q")
        await asyncio.sleep(0)
        assert not pilot.app.is_running or pilot.app._exit
    assert Position(0, 1) == place_on_disk(tmp_path)
