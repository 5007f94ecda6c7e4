"""When a move cannot be saved, and when somebody else has the piece."""

import asyncio
import errno
import os
import shutil
import time
from dataclasses import dataclass
from datetime import timedelta
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
    region_of,
    shown_lines,
    shown_text,
    stitching,
)
from textual.events import Key
from textual.pilot import Pilot

from tracker.app import saving
from tracker.app.keyguard import BOUNCE
from tracker.app.main import TrackerApp
from tracker.app.screens.welcome import QUESTION, welcome
from tracker.exchange import import_piece
from tracker.progress.position import Position
from tracker.progress.state import utc_now
from tracker.progress.store import Store
from tracker.session import Session
from tracker.starting import take_up


@pytest.fixture
def design(tmp_path: Path) -> str:
    """A band of 2 columns and 6 rows: 3 steps a row."""
    return str(design_file(tmp_path, design_text()))


@dataclass
class Disk:
    """A disk that can be full."""

    full: bool = True

    def sync(self, fd: int) -> None:
        """What the disk says."""
        if self.full:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        os.fsync(fd)


@pytest.fixture
def disk(monkeypatch: pytest.MonkeyPatch) -> Disk:
    """The disk that pieces are on; not full yet."""
    disk = Disk(full=False)
    monkeypatch.setattr(os, "fdatasync", disk.sync)
    return disk


def alarm(pilot: Pilot[None]) -> str:
    """What stands in the line that holds for as long as something is not saved."""
    area = region_of(pilot, "#alarm")
    return " ".join(" ".join(shown_lines(pilot)[area.y : area.bottom]).split())


@pytest.mark.parametrize("colour", ["colour", "no colour"])
async def test_a_full_disk_stops_nobody(
    tmp_path: Path, design: str, disk: Disk, colour: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Work goes on, the alarm says what is not saved, in every key; then all of it is saved."""
    if colour == "no colour":
        monkeypatch.setenv("NO_COLOR", "1")
    async with at_work(tmp_path, design) as pilot:
        await pilot.press("space")
        assert not pilot.app.screen.query_one("#alarm").display
        disk.full = True
        for count, place in ((1, (1, 3)), (2, (2, 1)), (3, (2, 2))):
            await pilot.press("space")
            assert place == place_shown(pilot)
            moves = "1 move" if count == 1 else f"{count} moves"
            full = f"NOT SAVED: {moves} only in memory: the disk is full; free some space"
            assert full == alarm(pilot)
            await pilot.press("s")  # another notice takes nothing of it away
            assert full == alarm(pilot)
        assert Position(0, 1) == place_on_disk(tmp_path)
        disk.full = False
        await pilot.press("space")
        assert "Saved again" in shown_text(pilot)
        assert "NOT SAVED" not in shown_text(pilot)
        assert Position(1, 2) == place_on_disk(tmp_path)
        await pilot.press("space")
        assert "Saved again" not in shown_text(pilot)


async def test_it_tries_again_by_itself(
    tmp_path: Path, design: str, disk: Disk, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Without a key it is saved once that can be; while all is saved nothing runs."""
    monkeypatch.setattr(saving, "CALM", 0.05)
    async with at_work(tmp_path, design) as pilot:
        keeper = stitching(pilot).saving
        await pilot.press("space")
        assert keeper._timer is None
        disk.full = True
        await pilot.press("space")
        await pilot.pause(0.2)
        assert "1 move only in memory" in alarm(pilot)
        disk.full = False
        deadline = monotonic() + 60
        while "Saved again" not in shown_text(pilot) and monotonic() < deadline:
            await pilot.pause(0.05)
        assert keeper._timer is None
        assert Position(0, 2) == place_on_disk(tmp_path)


@pytest.mark.parametrize("leave", ["q", "ctrl+q"])
async def test_leaving_asks_about_what_is_not_saved(
    tmp_path: Path, design: str, disk: Disk, leave: str
) -> None:
    """Space tries again, Escape stays, only the last answer goes without; then it is told."""
    async with at_work(tmp_path, design) as pilot:
        disk.full = True
        await pilot.press("space", "space", leave)
        assert "NOT SAVED: 2 moves only in memory" in shown_text(pilot)
        assert "On the disk the piece stands at row 1, step 1" in shown_text(pilot)
        assert "Quit without these 2 moves" in shown_text(pilot)
        await pilot.press("space")
        assert "Quit without these 2 moves" in shown_text(pilot)
        await pilot.press("escape", "space")
        assert "3 moves only in memory" in alarm(pilot)
        await pilot.press(leave, "end", "enter")
        await pilot.pause()
        app = pilot.app
    assert isinstance(app, TrackerApp)
    (lost,) = app.lost
    assert "Harbour lights: 3 moves were NOT SAVED: the disk is full" in lost
    assert "on the disk the piece stands at row 1, step 1" in lost
    assert Position(0, 0) == place_on_disk(tmp_path)


async def test_leaving_when_there_is_room_again(tmp_path: Path, design: str, disk: Disk) -> None:
    """The question's first answer, and leaving without one, save what there is."""
    async with at_work(tmp_path, design) as pilot:
        disk.full = True
        await pilot.press("space", "space", "q")
        disk.full = False
        await pilot.press("enter")
        await pilot.pause()
        app = pilot.app
    assert isinstance(app, TrackerApp)
    assert [] == app.lost
    assert Position(0, 2) == place_on_disk(tmp_path)


async def test_written_elsewhere(
    tmp_path: Path, design: str, disk: Disk, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What cannot be saved goes to a file that can be taken in again."""
    monkeypatch.chdir(tmp_path)
    out = "safe"
    async with at_work(tmp_path / "home", design) as pilot:
        disk.full = True
        await pilot.press("space", "space", "q", "down", "enter", "ctrl+u", *out)
        await pilot.press("enter")
        await pilot.pause()
        app = pilot.app
    assert isinstance(app, TrackerApp)
    assert "all of it is in safe" in app.lost[0]
    disk.full = False
    taken = import_piece(out, Store(tmp_path / "other"))
    assert Position(0, 2) == taken.position


async def test_a_folder_that_is_gone_is_made_anew(tmp_path: Path, design: str) -> None:
    """From what is known here, after a question; then the work goes on in it."""
    async with at_work(tmp_path, design) as pilot:
        await pilot.press("space")
        shutil.rmtree(tmp_path / "pieces" / "harbour-lights")
        await pilot.press("space", "q")
        assert "its folder is gone" in shown_text(pilot)
        await pilot.press("down", "enter")
        assert "Saved again" in shown_text(pilot)
        assert Position(0, 2) == place_on_disk(tmp_path)
        await pilot.press("space")
    assert Position(1, 0) == place_on_disk(tmp_path)
    async with at_work(tmp_path, design) as pilot:
        assert (2, 1) == place_shown(pilot)


async def test_another_program_writes_too(tmp_path: Path, design: str) -> None:
    """Both are kept; the alarm says so, and the next opening asks which is right."""
    path = tmp_path / "pieces" / "harbour-lights" / "journal.toml"
    async with at_work(tmp_path, design) as pilot:
        await pilot.press("space")
        theirs = path.read_bytes()
        await pilot.press("space")
        path.write_bytes(theirs)
        await pilot.press("space")
        assert (2, 1) == place_shown(pilot)
        assert "ANOTHER PROGRAM changed this piece's journal" in alarm(pilot)
        assert "journal.other-1.toml" in alarm(pilot)
    assert theirs == path.read_bytes()
    async with at_work(tmp_path, design) as pilot:
        assert "row 1, step 2" in shown_text(pilot)
        assert "row 2, step 1" in shown_text(pilot)
        await pilot.press("space")  # out of habit: nothing is decided
        assert (1, 2) == place_shown(pilot)
    async with at_work(tmp_path, design) as pilot:
        await pilot.press("down", "down", "enter")
        assert (2, 1) == place_shown(pilot)
        assert "kept in the piece's folder" in shown_text(pilot)
        assert "ANOTHER" not in shown_text(pilot)
    async with at_work(tmp_path, design) as pilot:
        assert (2, 1) == place_shown(pilot)
        assert 1 == len(pilot.app.screen_stack)


async def test_counting_from_the_bench_on_a_full_disk(
    tmp_path: Path, design: str, disk: Disk
) -> None:
    """Beads that are counted for a piece are kept, said, and not left behind unasked."""
    async with at_work(tmp_path, design) as pilot:
        await pilot.press("space", "q")
    async with at_work(tmp_path, None) as pilot:
        await pilot.press("i")
        disk.full = True
        await pilot.press("enter", "9", "9", "enter", "q")
        assert "NOT SAVED: 1 note only in memory" in shown_text(pilot)
        assert "q once more leaves without it" in shown_text(pilot)
        disk.full = False
        await pilot.press("q")
        await pilot.press("i")
        assert "99 on hand" in shown_text(pilot)


def test_a_clock_that_was_ahead(tmp_path: Path, design: str) -> None:
    """Stitched tomorrow, by a clock put right since: said so, and the question is asked."""
    in_hand = take_up(design, Store(tmp_path))
    session = Session(in_hand, clock=lambda: utc_now() + timedelta(days=1))
    session.forward()
    (when, question, *_), doubt = welcome(session, utc_now())
    session.close()
    assert when.endswith(", by a clock that was ahead of this one.")
    assert (QUESTION, True) == (question, doubt)


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
