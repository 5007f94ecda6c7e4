"""The stitching screen, key by key, on the real app."""

import itertools
from pathlib import Path

import pytest
from hands import (
    at_work,
    design_file,
    design_text,
    place_on_disk,
    place_shown,
    region_of,
    shown_lines,
    shown_text,
    stitching,
)
from textual.widgets import Input

from tracker.app.actions import ACTIONS
from tracker.app.screens.asking import Ask
from tracker.app.screens.help import Help
from tracker.app.screens.stitching import Stitching
from tracker.progress.position import Position


@pytest.fixture
def design(tmp_path: Path) -> str:
    """A band of 2 columns and 6 rows: 3 steps a row."""
    return str(design_file(tmp_path, design_text()))


def keys_of(action: str) -> tuple[str, ...]:
    """The keys of an action, by the table."""
    return next(a.keys for a in ACTIONS if a.id == action)


async def test_every_key_for_on_and_back_moves_one_step(tmp_path: Path, design: str) -> None:
    """Each key of the table does its job, and is shown, after the move is on the disk."""
    on, back = keys_of("forward"), keys_of("back")
    async with at_work(tmp_path, design) as pilot:
        for step, key in enumerate(on, start=1):
            await pilot.press(key)
            assert divmod(step, 3) == place_on_disk(tmp_path)
            assert (step // 3 + 1, step % 3 + 1) == place_shown(pilot)
        for step, key in enumerate(back, start=1):
            await pilot.press(key)
            assert divmod(len(on) - step, 3) == place_on_disk(tmp_path)


async def test_a_place_is_on_the_disk_before_it_is_shown(
    tmp_path: Path, design: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """At every painting, forward and back, the files are at least as far as the screen."""
    seen = []
    show = Stitching.show

    def spying_show(screen: Stitching) -> None:
        seen.append((place_on_disk(tmp_path), screen.session.place.position))
        show(screen)

    async with at_work(tmp_path, design) as pilot:
        monkeypatch.setattr(Stitching, "show", spying_show)
        await pilot.press("space", "space", "space", "left", "space")

    assert len(seen) >= 5
    assert all(disk == shown for disk, shown in seen)


async def test_going_on_by_rows(tmp_path: Path, design: str) -> None:
    """The key changes between steps and rows, says so, and the piece remembers it."""
    async with at_work(tmp_path, design) as pilot:
        await pilot.press("space", "r")
        assert "One press is now one row." in shown_text(pilot)
        await pilot.press("space")
        assert Position(1, 0) == place_on_disk(tmp_path)
        assert "by row" in shown_lines(pilot)[0]
        await pilot.press("space", "left")
        assert Position(1, 0) == place_on_disk(tmp_path)
    async with at_work(tmp_path, design) as pilot:
        assert "by row" in shown_lines(pilot)[0]
        await pilot.press("r", "space")
        assert Position(1, 1) == place_on_disk(tmp_path)


async def test_a_row_at_once_names_every_tile_and_move(tmp_path: Path) -> None:
    """By rows the tiles stand in order, each kind of step once, no colour said that varies."""
    design = design_file(tmp_path, design_text(4, 6))
    async with at_work(tmp_path, str(design), size=(100, 30)) as pilot:
        await pilot.press("r", "space", "space")
        text = shown_text(pilot)

        assert "PICK UP 4 tiles in this order, 6 seeds" in text
        assert "A A A B 3 TIMES pick up 1 seed and 1 tile; go through the lone seed; " in text
        assert "ONCE pick up 1 seed and 1 tile; go through the lone seed TURN pick up 2" in text
        await pilot.press("w", "w")
        text = shown_text(pilot)
        assert "3 TIMES 1 seed, 1 tile; lone seed; past the full tile; open hole ONCE" in text
        assert "TURN 2 seeds; go back through open hole" in text


async def test_by_rows_from_the_middle_of_a_row_shows_the_rest(tmp_path: Path, design: str) -> None:
    """What has been picked up already is not asked for again."""
    async with at_work(tmp_path, design) as pilot:
        await pilot.press("space", "r")

        assert "PICK UP 1 tile in this order, 6 seeds" in shown_text(pilot)


async def test_words_full_and_short(tmp_path: Path, design: str) -> None:
    """The first rows speak in full; the key asks for full, short, and by the row again."""
    async with at_work(tmp_path, design) as pilot:
        await pilot.press("g", "3", "enter")
        full = "the open hole of the lagoon tile standing out"
        assert full in shown_text(pilot)
        await pilot.press("w")
        assert "Now full words." in shown_text(pilot)
        await pilot.press("w")
        assert "Now short words." in shown_text(pilot)
        assert full not in shown_text(pilot)
        assert "open hole of lagoon" in shown_text(pilot)
        await pilot.press("w")
        assert full in shown_text(pilot)


async def test_going_to_a_row(tmp_path: Path, design: str) -> None:
    """A number and Enter goes to that row's start; Escape, or Enter alone, goes nowhere."""
    async with at_work(tmp_path, design) as pilot:
        await pilot.press("g", "5", "enter")
        assert Position(4, 0) == place_on_disk(tmp_path)
        assert (5, 1) == place_shown(pilot)
        await pilot.press("g", "2", "escape")
        await pilot.press("g", "enter")
        assert (5, 1) == place_shown(pilot)


@pytest.mark.parametrize("typed", ["0", "7", "99999", "abc", "-", "-3", "1.5", "[b]"])
async def test_going_to_a_row_that_there_is_not(tmp_path: Path, design: str, typed: str) -> None:
    """Nought, too many and what is no number go nowhere, with the limits beside them."""
    async with at_work(tmp_path, design) as pilot:
        await pilot.press("space", "g")
        for letter in typed:
            await pilot.press(letter)
        value = pilot.app.screen.query_one(Input).value
        await pilot.press("enter")
        if value:
            assert isinstance(pilot.app.screen, Ask)
            assert f"There is no row {value}: 1 to 6." in shown_text(pilot)
            await pilot.press("escape")
        assert (1, 2) == place_shown(pilot)
    assert Position(0, 1) == place_on_disk(tmp_path)


async def test_the_help_names_every_key(tmp_path: Path, design: str) -> None:
    """Each action of the table is told; every key of the help takes it away and does no more."""
    async with at_work(tmp_path, design, size=(100, 60)) as pilot:
        for opens, closes in zip(
            itertools.cycle(keys_of("help")), ("escape", "question_mark", "q", "space", "enter")
        ):
            await pilot.press(opens)
            assert isinstance(pilot.app.screen, Help)
            text = shown_text(pilot)
            assert all(" ".join(action.help.split()) in text for action in ACTIONS)
            await pilot.press(closes)
            assert isinstance(pilot.app.screen, Stitching)
        assert (1, 1) == place_shown(pilot)


async def test_the_help_can_be_scrolled_where_it_is_longer_than_the_screen(
    tmp_path: Path, design: str
) -> None:
    """At 60 by 18 the keys come first and the cautions are reached with the arrow keys."""
    async with at_work(tmp_path, design, size=(60, 18)) as pilot:
        await pilot.press("question_mark")
        assert "Take care" not in shown_text(pilot)
        await pilot.press(*["down"] * 30)
        await pilot.pause(0.4)
        assert "choke" in shown_text(pilot)
        assert isinstance(pilot.app.screen, Help)


async def test_quitting_keeps_the_place(tmp_path: Path, design: str) -> None:
    """The key leaves with nothing to report, and the next opening stands at the place."""
    async with at_work(tmp_path, design) as pilot:
        await pilot.press("space", "space", "q")
        await pilot.pause()
        assert not pilot.app.is_running
        assert pilot.app.return_code in (0, None)
    async with at_work(tmp_path, design) as pilot:
        assert (1, 3) == place_shown(pilot)


async def test_taking_it_up_again_says_how_the_work_should_look(
    tmp_path: Path, design: str
) -> None:
    """The notice tells where the thread comes out and which tiles stand open; a move clears it."""
    async with at_work(tmp_path, design) as pilot:
        await pilot.press("g", "3", "enter", "space")
    async with at_work(tmp_path, design) as pilot:
        text = shown_text(pilot)
        assert "You stopped " in text
        # Row 3, first step done: the needle came up through hole b of row 2's inner tile.
        assert "The thread comes out of hole b of the lagoon tile, at its upper end." in text
        # Of row 2 the tile at the turn is full, and the other has just been filled.
        assert "1 lagoon tile stands open." in text
        await pilot.press("space")
        assert "You stopped " not in shown_text(pilot)
        await pilot.press("s")
        assert "The thread comes out of " in shown_text(pilot)


async def test_keys_that_mean_nothing_do_nothing(tmp_path: Path, design: str) -> None:
    """Modifiers alone, function keys and stray letters neither move the place nor say a thing."""
    async with at_work(tmp_path, design) as pilot:
        await pilot.press("space")
        before = shown_lines(pilot)
        await pilot.press("left_shift", "right_control", "left_alt", "left_super", "caps_lock")
        await pilot.press("f2", "f12", "up", "down", "x", "z", "tab", "escape", "ctrl+p", "é")
        assert before == shown_lines(pilot)
    assert Position(0, 1) == place_on_disk(tmp_path)


async def test_resizing_keeps_the_place(tmp_path: Path, design: str) -> None:
    """From 80 by 24 to 200 by 60 to 60 by 18 and back: the same place, every part inside."""
    async with at_work(tmp_path, design) as pilot:
        # By rows and back: what is below the move lies no lower than this step needs.
        await pilot.press("g", "3", "enter", "space", "r", "r")
        first = shown_lines(pilot)
        for width, height in ((200, 60), (60, 18), (80, 24)):
            await pilot.resize_terminal(width, height)
            await pilot.pause()
            assert (3, 2) == place_shown(pilot)
            lines = shown_lines(pilot)
            assert (width, height) == (len(lines[0]), len(lines))
            assert "GO THROUGH" in shown_text(pilot)
            assert region_of(pilot, "#foot").bottom == height
        assert first == shown_lines(pilot)
        assert stitching(pilot).query_one("#picture").size.height >= 8


@pytest.mark.parametrize("columns", [2, 3])
async def test_what_is_below_the_move_stays_where_it_is(tmp_path: Path, columns: int) -> None:
    """Once the longest move of a row has been seen, the picture lies still from step to step."""
    design = str(design_file(tmp_path, design_text(columns, 40)))
    async with at_work(tmp_path, design) as pilot:
        await pilot.press("g", "2", "0", "enter")
        tops = []
        for _ in range(6 * (columns + 1)):
            await pilot.press("space")
            await pilot.pause()
            tops.append(region_of(pilot, "#picture").y)
        assert sorted(tops) == tops
        assert 1 == len(set(tops[2 * (columns + 1) :]))


async def test_a_notice_moves_the_picture_and_nothing_is_cut_off(
    tmp_path: Path, design: str
) -> None:
    """While a notice takes lines, the picture is drawn anew for the lines that are left."""
    async with at_work(tmp_path, design) as pilot:
        await pilot.press("g", "3", "enter")
        await pilot.press("s")
        await pilot.pause()
        assert region_of(pilot, "#notice").height >= 1
        # The lower edge's caps and the rings of this move are still in view.
        picture = region_of(pilot, "#picture")
        shown = shown_lines(pilot)[picture.y : picture.bottom]
        assert {"1", "2"} <= {c for line in shown for c in line[: picture.width]}
        smaller = picture.height
        await pilot.press("space", "left")
        await pilot.pause()
        picture = region_of(pilot, "#picture")
        assert picture.height > smaller
        last = shown_lines(pilot)[picture.bottom - 1][: picture.width]
        assert last.strip()


async def test_a_finished_piece_shows_its_end(tmp_path: Path, design: str) -> None:
    """After the last step: done, what stands open, and going on goes nowhere."""
    async with at_work(tmp_path, design) as pilot:
        await pilot.press("g", "6", "enter", "space", "space", "space")
        assert Position(6, 0) == place_on_disk(tmp_path)
        text = shown_text(pilot)
        assert "all 6 rows done" in shown_lines(pilot)[0]
        assert "DONE All 6 rows are woven." in text
        assert "1 lagoon tile stands open." in text
        await pilot.press("space")
        assert Position(6, 0) == place_on_disk(tmp_path)
        await pilot.press("left")
        assert (6, 3) == place_shown(pilot)
