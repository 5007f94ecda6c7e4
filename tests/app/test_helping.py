"""What the screen helps with beside going on: mistakes, lost places, measuring, thread, rest."""

from __future__ import annotations

import json
from datetime import timedelta
from pathlib import Path

import pytest
from hands import at_work, design_file, design_text, place_shown, shown_text, stitching
from textual.widgets import Input

from tracker.app.main import TrackerApp
from tracker.app.screens.asking import Ask, Choose
from tracker.progress.position import Position
from tracker.progress.state import Moved, utc_now
from tracker.progress.store import Store
from tracker.settings.model import Settings, Speak, Tempo
from tracker.starting import take_up


@pytest.fixture
def design(tmp_path: Path) -> str:
    """A band of two columns and twenty rows."""
    return str(design_file(tmp_path, design_text(2, 20)))


def speaker(tmp_path: Path) -> tuple[Path, tuple[str, ...]]:
    """A speech program that writes down what it is told, a line each."""
    said = tmp_path / "said.txt"
    program = tmp_path / "speak"
    program.write_text(f'#!/bin/sh\nprintf "%s\\n" "$1" >> "{said}"\n')
    program.chmod(0o755)
    return said, (str(program),)


async def test_a_mistake_is_taken_out_row_by_row(tmp_path: Path, design: str) -> None:
    """From row 6 to row 5: each press takes one step out, counters run back, then it goes on."""
    async with at_work(tmp_path, design) as pilot:
        await pilot.press("g", "6", "enter")
        beads = stitching(pilot).session.place.left.beads["sS"]
        await pilot.press("u", "5", "enter")
        assert "TAKE OUT pull the needle back out of hole b" in shown_text(pilot)
        assert "TAKING OUT to row 5" in shown_text(pilot)
        await pilot.press("space")
        assert beads + 2 == stitching(pilot).session.place.left.beads["sS"]
        await pilot.press("space", "space")
        assert (5, 1) == place_shown(pilot)
        await pilot.press("space")
        assert (5, 2) == place_shown(pilot)


async def test_taking_out_is_taken_up_again(tmp_path: Path, design: str) -> None:
    """Stopped in the middle of taking out, the next sitting goes on with it; u gives it up."""
    async with at_work(tmp_path, design) as pilot:
        await pilot.press("g", "6", "enter", "u", "5", "enter", "space", "q")
    async with at_work(tmp_path, design) as pilot:
        assert "TAKING OUT to row 5" in shown_text(pilot)
        await pilot.press("u")
        assert (5, 3) == place_shown(pilot)


async def test_rows_not_stitched_yet_cannot_be_taken_out(tmp_path: Path, design: str) -> None:
    """The question says so and stays."""
    async with at_work(tmp_path, design) as pilot:
        await pilot.press("g", "3", "enter", "u", "9", "enter")
        assert "Row 9 is not stitched yet" in shown_text(pilot)
        assert isinstance(pilot.app.screen, Ask)


async def test_the_place_is_found_and_set_after_a_yes(tmp_path: Path, design: str) -> None:
    """Answers about the work before row 5 lead there; only then does the place move."""
    answers = {
        "upper edge?": "2",
        "lower edge?": "2",
        "hole still open": "1",
        "In which lane": "1",
        "tile added last": "sand",
        "seed or a tile": "tile",
        "comes out of?": "sand",
        "leave that bead": "upper",
    }
    async with at_work(tmp_path, design) as pilot:
        await pilot.press("space", "f")
        for _ in range(10):
            text = shown_text(pilot)
            if "Your work stands at" in text:
                break
            answer = next(a for part, a in answers.items() if part in text)
            screen = pilot.app.screen
            if isinstance(screen, Choose):
                screen.dismiss(answer)
            else:
                screen.query_one(Input).value = answer
                await pilot.press("enter")
            await pilot.pause()
        assert "row 5, step 1" in shown_text(pilot)
        await pilot.press("enter")
        assert (5, 1) == place_shown(pilot)


async def test_a_measurement_says_what_it_changes(tmp_path: Path, design: str) -> None:
    """The question, what is wrong with an answer, and what a good one does."""
    async with at_work(tmp_path, design) as pilot:
        await pilot.press("m")
        assert "no whole row to measure yet" in shown_text(pilot)
        await pilot.press("g", "1", "1", "enter", "m", *"30", "enter")
        assert "is no length" in shown_text(pilot)
        await pilot.press("space", *"mm", "enter")
        assert "mm were believed" in shown_text(pilot)
        assert [(10, 30.0)] == [tuple(m) for m in stitching(pilot).session.progress.measured]


async def test_a_new_thread_is_taken_down(tmp_path: Path, design: str) -> None:
    """The length joined is what is left on the needle, less what weaving in takes."""
    async with at_work(tmp_path, design) as pilot:
        await pilot.press("g", "9", "enter", "j", *"1.5 m".replace(" ", ""), "enter")
        assert pytest.approx(1350.0) == stitching(pilot).session.place.left.thread


async def test_lost_beads_are_counted(tmp_path: Path, design: str) -> None:
    """A letter that is no colour is refused; a good one is counted."""
    async with at_work(tmp_path, design) as pilot:
        await pilot.press("x", "q", "enter")
        assert "There is no colour Q: A, B, S" in shown_text(pilot)
        await pilot.press("backspace", "a", "space", "3", "enter")
        assert "Lost so far: 3 lagoon." in shown_text(pilot)


async def test_after_a_break_the_first_press_is_an_answer(tmp_path: Path, design: str) -> None:
    """An hour later it asks whether the work looks as told; yes is no move."""
    store = Store(tmp_path)
    piece = take_up(design, store).piece
    piece.record(Moved(utc_now() - timedelta(hours=1), Position(4, 1)))
    piece.close()
    async with at_work(tmp_path, design) as pilot:
        text = shown_text(pilot)
        assert "The thread comes out of" in text
        assert "3 seeds cap the lower edge at the last turn." in text
        assert "Does your work look like this?" in text
        await pilot.press("space")
        assert (5, 2) == place_shown(pilot)
        assert "Does your work" not in shown_text(pilot)
        await pilot.press("space")
        assert (5, 3) == place_shown(pilot)


async def test_steps_are_read_aloud_while_the_voice_is_on(tmp_path: Path, design: str) -> None:
    """The voice says the step it is switched on at and each one after it, and stops when off."""
    said, program = speaker(tmp_path)
    settings = Settings(bounce=0, speak=Speak(program=program, sounds=False))
    app = TrackerApp(Store(tmp_path), take_up(design, Store(tmp_path)), settings)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("v")
        await pilot.pause(0.3)
        await pilot.press("space")
        await pilot.pause(0.3)
        await pilot.press("v", "space")
        await pilot.pause(0.3)
    expected = [
        "pick up 3 smoke seeds and 1 lagoon tile",
        "pick up 3 smoke seeds and 1 sand tile",
    ]
    assert expected == said.read_text().splitlines()


async def test_the_tempo_counts_in_goes_on_and_any_key_pauses(tmp_path: Path, design: str) -> None:
    """With a second a step and a count-in of one it moves by itself until a key."""
    settings = Settings(bounce=0, tempo=Tempo(seconds=1.0, count_in=1))
    app = TrackerApp(Store(tmp_path), take_up(design, Store(tmp_path)), settings)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("t")
        await pilot.pause(0.2)
        assert "any key pauses" in shown_text(pilot)
        await pilot.pause(1.2)
        assert (1, 2) == place_shown(pilot)
        await pilot.press("f9")
        await pilot.pause(1.3)
        assert (1, 2) == place_shown(pilot)


async def test_without_a_pace_there_is_no_tempo(tmp_path: Path, design: str) -> None:
    """The screen says what is missing."""
    async with at_work(tmp_path, design) as pilot:
        await pilot.press("t")
        assert "No pace is known yet" in shown_text(pilot)


async def test_large_print_shows_numbers_letters_and_the_words(tmp_path: Path, design: str) -> None:
    """Seven lines a letter: pick-ups and holes above, the words below; b again goes back."""
    async with at_work(tmp_path, design) as pilot:
        await pilot.press("g", "3", "enter", "b")
        await pilot.pause()
        text = shown_text(pilot)
        assert text.count("██") > 60
        assert "the open hole of the lagoon tile standing out" in text
        await pilot.press("b")
        await pilot.pause()
        assert "STILL" not in shown_text(pilot)
        assert "still to pick up" in shown_text(pilot)


async def test_keys_can_be_moved_by_the_settings(tmp_path: Path, design: str) -> None:
    """A pedal that sends F5 goes on; the key it replaced does nothing."""
    settings = Settings(bounce=0, keys={"forward": ("f5",)})
    app = TrackerApp(Store(tmp_path), take_up(design, Store(tmp_path)), settings)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("f5")
        assert (1, 2) == place_shown(pilot)
        await pilot.press("space")
        assert (1, 2) == place_shown(pilot)


async def test_the_help_names_keys_as_they_are(tmp_path: Path, design: str) -> None:
    """What the settings have moved is shown where it is now."""
    settings = Settings(bounce=0, keys={"unpick": ("f7",)})
    app = TrackerApp(Store(tmp_path), take_up(design, Store(tmp_path)), settings)
    async with app.run_test(size=(100, 60)) as pilot:
        await pilot.press("question_mark")
        assert "f7 Take work out" in shown_text(pilot)


def test_a_key_is_bound_and_comments_stay(tmp_path: Path) -> None:
    """The screen of keys writes what was chosen into the beader's own file."""
    from tracker.settings.actions import COMMANDS, USUAL_KEYS  # noqa: PLC0415
    from tracker.settings.reader import read_settings  # noqa: PLC0415
    from tracker.settings.writer import bind  # noqa: PLC0415

    path = tmp_path / "settings.toml"
    path.write_text("format = 1  # mine\nbounce = 55\n")
    bind(path, {"forward": ("space", "f5")})
    assert path.read_text().startswith("format = 1  # mine\nbounce = 55\n")
    settings = read_settings(path, actions=USUAL_KEYS, commands=COMMANDS)
    assert {"forward": ["space", "f5"]} == json.loads(
        json.dumps({key: list(keys) for key, keys in settings.keys.items()})
    )
