"""When a move cannot be saved, and when somebody else has the piece."""

import asyncio
import errno
import os
import time
from pathlib import Path
from threading import Thread
from time import monotonic

import pytest
from hands import (
    at_work,
    bouncing,
    design_file,
    design_text,
    place_on_disk,
    place_shown,
    press_at,
    shown_text,
)
from textual.events import Key

from tracker.app.keyguard import BOUNCE
from tracker.progress.position import Position


@pytest.fixture
def design(tmp_path: Path) -> str:
    """A band of 2 columns and 6 rows: 3 steps a row."""
    return str(design_file(tmp_path, design_text()))


async def test_a_full_disk_moves_nothing_and_is_got_over(
    tmp_path: Path, design: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The screen says that nothing was saved and stays; when there is room again it goes on."""
    real = os.fdatasync

    def full(_fd: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    async with at_work(tmp_path, design) as pilot:
        await pilot.press("space")
        monkeypatch.setattr(os, "fdatasync", full)
        for key in ("space", "enter", "left"):
            await pilot.press(key)
            assert "NOT SAVED, the place has not moved" in shown_text(pilot)
            assert "the disk is full" in shown_text(pilot)
            assert (1, 2) == place_shown(pilot)
        await pilot.press("r")
        assert "by step" in shown_text(pilot)
        monkeypatch.setattr(os, "fdatasync", real)
        await pilot.press("space")
        assert "NOT SAVED" not in shown_text(pilot)
        assert (1, 3) == place_shown(pilot)
    assert Position(0, 2) == place_on_disk(tmp_path)


async def test_a_second_window_reads_only(tmp_path: Path, design: str) -> None:
    """It says so above all, moves nothing, shows where the first is, and leaves the lock be."""
    async with at_work(tmp_path, design) as first:
        await first.press("space")
        async with at_work(tmp_path, design) as second:
            assert "READING ONLY" in shown_text(second)
            assert "open in another window" in shown_text(second)
            assert (1, 2) == place_shown(second)
            for keys in (("space",), ("left",), ("r",), ("g", "4", "enter")):
                await second.press(*keys)
                assert "Reading only" in shown_text(second)
                assert (1, 2) == place_shown(second)
        assert Position(0, 1) == place_on_disk(tmp_path)
        await first.press("space")
        assert Position(0, 2) == place_on_disk(tmp_path)
    async with at_work(tmp_path, design) as again:
        assert "READING ONLY" not in shown_text(again)


async def test_a_bouncing_key_moves_one_step(tmp_path: Path, design: str) -> None:
    """With the guard on, presses that follow at once are one."""
    async with at_work(tmp_path, design, bounce=BOUNCE) as pilot:
        await bouncing(pilot, "space")
        assert (1, 2) == place_shown(pilot)


async def test_a_key_that_took_the_help_away_may_bounce(tmp_path: Path, design: str) -> None:
    """What follows it at once, or repeats because it is held, is no move of the piece."""
    async with at_work(tmp_path, design, bounce=BOUNCE) as pilot:
        await pilot.press("question_mark")
        at = monotonic()
        await press_at(pilot, "space", at)
        assert (1, 1) == place_shown(pilot)
        await press_at(pilot, "space", at + 0.01, at + 0.03, at + 0.5, at + 0.533, at + 0.566)
        await pilot.pause(0.3)
        assert (1, 1) == place_shown(pilot)
        await press_at(pilot, "space", at + 3.0)
        assert (1, 2) == place_shown(pilot)


async def test_quitting_takes_a_waiting_press_along(tmp_path: Path, design: str) -> None:
    """A press that still waits when another key follows is made first, and is saved."""
    async with at_work(tmp_path, design, bounce=BOUNCE) as pilot:
        await pilot.press("space")
        await pilot.pause(0.3)
        await pilot.press("space", "r")
        assert (1, 3) == place_shown(pilot)
        await pilot.press("r")
        await pilot.pause(0.3)
        await pilot.press("space", "q")
    assert Position(1, 0) == place_on_disk(tmp_path)


async def test_a_slow_disk_loses_no_press(
    tmp_path: Path, design: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Presses are told apart by when they were made, not by when the disk lets them through."""
    real = os.fdatasync

    def slow(fd: int) -> None:
        time.sleep(0.4)
        real(fd)

    async with at_work(tmp_path, design, bounce=BOUNCE) as pilot:
        monkeypatch.setattr(os, "fdatasync", slow)
        app, loop = pilot.app, asyncio.get_running_loop()

        def tread() -> None:
            for _ in range(3):
                loop.call_soon_threadsafe(app.post_message, Key("space", " "))
                time.sleep(0.2)

        feet = Thread(target=tread)
        feet.start()
        deadline = time.monotonic() + 60
        while place_on_disk(tmp_path) != Position(1, 0) and time.monotonic() < deadline:
            await pilot.pause(0.05)
        feet.join()
    assert Position(1, 0) == place_on_disk(tmp_path)
