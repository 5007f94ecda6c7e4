"""What is to be done next is never off the screen, whatever the size of screen and band."""

from datetime import timedelta
from functools import cache
from pathlib import Path

import pytest
from hands import (
    LONG_NAMES,
    NAMES,
    at_work,
    design_file,
    design_text,
    pattern_of,
    place_at,
    region_of,
    shown_lines,
    shown_text,
)
from rich.cells import cell_len
from rich.style import Style

from tracker.app.lines import column, fold, line, spoken
from tracker.app.screens.stitching import PICTURE, room_for_move
from tracker.app.widgets.notice import most_lines
from tracker.app.widgets.now import height_of, lines_of
from tracker.app.widgets.where import text_of
from tracker.pattern.model import Pattern
from tracker.progress.position import By, Position
from tracker.progress.state import Moved, utc_now
from tracker.progress.store import Store
from tracker.starting import take_up

SIZES = ((80, 24), (100, 30), (200, 60), (60, 18))
COLUMNS = (2, 6, 12, 40)
ROWS = 6
"""All kinds of rows: strung, return, up and down."""


@cache
def band(columns: int, names: tuple[str, str, str]) -> Pattern:
    """A band of as many columns in colours of such names."""
    return pattern_of(design_text(columns, ROWS, names=names))


def positions(pattern: Pattern) -> list[Position]:
    """Every place of a pattern but its end."""
    return [Position(r, s) for r in range(pattern.row_count) for s in range(pattern.steps_in(r))]


def text_shown(pattern: Pattern, position: Position, by: By, size: tuple[int, int]) -> str:
    """The words of the move, as cut and filled to the screen, in one piece."""
    place = place_at(pattern, position, by=by, words="full")
    wide, high = size
    runs = lines_of(place, wide, room_for_move(high, 0))
    strips = [line(parts, wide, Style()) for parts in runs]
    return " ".join(" ".join(strip.text for strip in strips).split())


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("columns", COLUMNS)
def test_every_move_fits(columns: int, size: tuple[int, int]) -> None:
    """At every step, by steps and by rows, with a notice of full size and without."""
    wide, high = size
    for names in (NAMES, LONG_NAMES):
        pattern = band(columns, names)
        for position in positions(pattern):
            for by in ("step", "row"):
                if by == "row" and 0 < position.step < pattern.steps_in(position.row) - 3:
                    continue  # less of the same row
                place = place_at(pattern, position, by=by)
                for notice in (0, most_lines(wide)):
                    room = room_for_move(high, notice)
                    lines = lines_of(place, wide, room)
                    assert len(lines) <= height_of(place, wide, room) <= room, place.position
                    assert all(sum(cell_len(t) for t, _ in runs) <= wide for runs in lines)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("columns", COLUMNS)
def test_no_word_of_a_move_is_cut(columns: int, size: tuple[int, int]) -> None:
    """Of the longest colour names every word stands, and no line ends in an ellipsis."""
    pattern = band(columns, LONG_NAMES)
    for position in positions(pattern):
        said = text_shown(pattern, position, "step", size)
        place = place_at(pattern, position, words="full")
        short = place_at(pattern, position, words="short")

        assert "…" not in said
        for full, brief in zip(place.moves(), short.moves(), strict=True):
            verb = "GO BACK" if full.back else full.move.upper()
            assert verb in said
            if full.move == "pick up":
                names = [pattern.colour(pattern.bead(b).colour).name for b in full.beads]
                assert all(name in said for name in names)
            else:
                assert full.text in said or brief.text in said


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("columns", COLUMNS)
def test_a_whole_row_shows_every_tile_in_order(columns: int, size: tuple[int, int]) -> None:
    """By rows the letters of all tiles are there, however many there are."""
    pattern = band(columns, NAMES)
    for number in range(pattern.row_count):
        row = pattern.row(number)
        letters = " ".join(bead.colour for bead in row.beads if bead.kind == "tile")

        assert f" {letters} " in text_shown(pattern, Position(number, 0), "row", size)


@pytest.mark.parametrize("columns", COLUMNS)
def test_the_picture_keeps_its_lines(columns: int) -> None:
    """At 80 by 24 there are at least 8 lines for it at every step, a full notice or none."""
    pattern = band(columns, LONG_NAMES)
    for position in positions(pattern):
        for by in ("step", "row"):
            place = place_at(pattern, position, by=by)
            for notice in (0, most_lines(80)):
                height = height_of(place, 80, room_for_move(24, notice))
                assert 24 - 2 - 3 - notice - height >= 8 == PICTURE


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("columns", [2, 40])
async def test_the_real_screen_has_that_room(
    tmp_path: Path, columns: int, size: tuple[int, int]
) -> None:
    """On the app itself the move's last word is inside its part, and that is on the screen."""
    design = design_file(tmp_path, design_text(columns, ROWS, names=LONG_NAMES))
    async with at_work(tmp_path, str(design), size=size) as pilot:
        for keys in (("g", "3", "enter"), ("s",), ("r",), ("s",), ("space",)):
            await pilot.press(*keys)
            await pilot.pause()
            now, foot = region_of(pilot, "#now"), region_of(pilot, "#foot")
            assert size[1] == foot.bottom
            assert now.bottom <= foot.y
            assert "GO THROUGH" in shown_text(pilot) or "TURN" in shown_text(pilot)
            lines = shown_lines(pilot)[now.y : now.bottom]
            assert not any("…" in text for text in lines)
            assert region_of(pilot, "#picture").height >= (8 if size[1] >= 24 else 2)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("columns", [2, 12])
async def test_the_question_after_a_break_is_never_cut(
    tmp_path: Path, columns: int, size: tuple[int, int]
) -> None:
    """Whoever takes the work up again sees when, what is asked, and where the thread comes out."""
    design = design_file(tmp_path, design_text(columns, ROWS, names=LONG_NAMES))
    with take_up(str(design), Store(tmp_path)).piece as piece:
        piece.record(Moved(utc_now() - timedelta(hours=3), Position(2, 1)))
    async with at_work(tmp_path, str(design), size=size) as pilot:
        text = shown_text(pilot)
        assert "You stopped" in text
        assert "Space: yes. f: no, find my place." in text
        assert "The thread comes out of hole b of the midnight over water! tile" in text
        assert "stand open" in text or "stands open" in text
        now, foot = region_of(pilot, "#now"), region_of(pilot, "#foot")
        assert now.bottom <= foot.y == size[1] - 1


@pytest.mark.parametrize("wide", [60, 80, 100, 200])
@pytest.mark.parametrize(
    "name", ["Harbour lights", "x" * 60, "\N{CJK UNIFIED IDEOGRAPH-73E0}" * 60]
)
def test_the_row_is_never_cut_for_a_name(wide: int, name: str) -> None:
    """Row, heading, step and how it goes on stand at the top at any width and with any name."""
    pattern = pattern_of(design_text(12, 400, name=name))
    place = place_at(pattern, Position(399, 12))
    text = text_of(place, wide)

    assert wide == cell_len(text)
    assert "ROW 400 of 400 ▼ down   STEP 13 of 13" in text
    assert text.endswith("by step ")


async def test_the_keys_at_the_foot_fit(tmp_path: Path) -> None:
    """A narrow screen leaves keys to the help, never half a word, and never the help itself."""
    design = design_file(tmp_path, design_text())
    async with at_work(tmp_path, str(design), size=(60, 18)) as pilot:
        for wide in (60, 74, 80):
            await pilot.resize_terminal(wide, 18)
            await pilot.pause()
            foot = shown_lines(pilot)[-1]
            assert "…" not in foot
            assert foot.split()[:2] == ["Space", "on"]
            assert "? help" in foot
            assert "q quit" in foot


def test_folding_keeps_words_whole() -> None:
    """A word that fits on a line is not broken; one that does not is, and all of it stands."""
    plain = Style()
    lines = fold(spoken("aa bbb cccc dd", plain), 7, 2)

    assert ["aa bbb ", "  cccc ", "  dd "] == ["".join(t for t, _ in runs) for runs in lines]
    broken = fold(spoken("x" * 20, plain), 7, 2)
    assert ["x" * 7, "  xxxxx", "  xxxxx", "  xxx "] == [
        "".join(t for t, _ in runs) for runs in broken
    ]


def test_columns_are_cut_by_cells() -> None:
    """Letters that are two cells wide count as two, and a cut shows."""
    wide = "\N{CJK UNIFIED IDEOGRAPH-73E0}"

    assert ["ab  ", "abc…", f"{wide}{wide}", f"{wide} …"] == [
        column(text, 4) for text in ("ab", "abcde", wide * 2, wide * 3)
    ]
