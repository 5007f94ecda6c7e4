"""Spoken commands, from sound to the moved step: the real recogniser behind the real screen."""

from __future__ import annotations

import asyncio
import importlib.util
from pathlib import Path

import pytest
from hands import design_file, design_text, place_shown, shown_text
from spoken import MISSING, Voice, silence
from textual.pilot import Pilot

from tracker.app.main import TrackerApp
from tracker.progress.store import Store
from tracker.settings.model import Listen, Settings
from tracker.starting import take_up

pytestmark = [
    pytest.mark.skipif(bool(MISSING), reason=f"not installed: {', '.join(MISSING)}"),
    pytest.mark.skipif(
        importlib.util.find_spec("pocketsphinx") is None, reason="not installed: pocketsphinx"
    ),
]

VOICE = Voice("en-us", 150)


def sound_file(tmp_path: Path, *phrases: str) -> Path:
    """Phrases, one after the other with silence around them, as raw sound."""
    path = tmp_path / "spoken.raw"
    parts = [silence(1.5)]
    for phrase in phrases:
        parts += [VOICE.say(phrase), silence(1.5)]
    path.write_bytes(b"".join(parts))
    return path


async def until(pilot: Pilot[None], place: tuple[int, int]) -> bool:
    """Whether the place is shown within 20 seconds."""
    for _ in range(200):
        if place_shown(pilot) == place:
            return True
        await asyncio.sleep(0.1)
        await pilot.pause()
    return False


def app_that_hears(tmp_path: Path, sound: Path) -> TrackerApp:
    """The app with a file in the place of the microphone."""
    design = design_file(tmp_path, design_text(2, 20))
    settings = Settings(bounce=0, listen=Listen(program=("cat", str(sound))))
    store = Store(tmp_path)
    return TrackerApp(store, take_up(str(design), store), settings)


async def test_a_spoken_command_moves_the_step(tmp_path: Path) -> None:
    """Said three times to go on and once to go back: the third step, and it is on the disk."""
    on = "next one please"
    sound = sound_file(tmp_path, on, on, on, "go back one")
    app = app_that_hears(tmp_path, sound)
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.press("l")
        assert "Listening for" in shown_text(pilot)
        assert await until(pilot, (2, 1))
        assert await until(pilot, (1, 3))


async def test_a_spoken_move_is_taken_back_by_voice(tmp_path: Path) -> None:
    """`undo last row` goes back to the start of the row."""
    app = app_that_hears(tmp_path, sound_file(tmp_path, "undo last row"))
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.press("g", "5", "enter", "space", "space", "l")
        assert await until(pilot, (5, 1))


async def test_a_missing_microphone_is_a_notice(tmp_path: Path) -> None:
    """A capture program that is not there is told, and everything else goes on."""
    settings = Settings(bounce=0, listen=Listen(program=("no-such-recorder",)))
    design = design_file(tmp_path, design_text(2, 20))
    app = TrackerApp(Store(tmp_path), take_up(str(design), Store(tmp_path)), settings)
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.press("l")
        assert "Not listening: there is no sound from no-such-recorder" in shown_text(pilot)
        await pilot.press("space")
        assert (1, 2) == place_shown(pilot)


async def test_a_phrase_that_cannot_be_heard_is_refused(tmp_path: Path) -> None:
    """A phrase of one short word is told with what to do."""
    settings = Settings(
        bounce=0, listen=Listen(program=("cat", "/dev/null"), phrases={"forward": "go"})
    )
    design = design_file(tmp_path, design_text(2, 20))
    app = TrackerApp(Store(tmp_path), take_up(str(design), Store(tmp_path)), settings)
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.press("l")
        assert "listen.phrases.forward" in shown_text(pilot)
