"""Bands that fill every lane in each row, shapes, and tiles without seeds on the screens."""

import asyncio
from pathlib import Path

import pytest
from hands import at_work, design_file, pattern_of, place_at, place_on_disk, shown_text

from tracker.app.look import Dress
from tracker.app.screens.stitching import Stitching, room_for_move
from tracker.app.screens.supplies import SuppliesScreen
from tracker.app.widgets.band import sample, strips
from tracker.app.widgets.now import lines_of
from tracker.app.widgets.picture import Sketch
from tracker.app.widgets.preview import band_picture, whole_band
from tracker.design.reader import parse_design
from tracker.pattern.preview import preview_of
from tracker.progress.position import Position
from tracker.stitches import demands

HEAD = 'format = 1\nname = "Harbour lights"\nstitch = "{}"\n'
COLOURS = """
[colours]
A = { name = "lagoon", hex = "#2a7f8e" }
B = { name = "sand", hex = "#e8dcc0" }
[layout]
"""
SIX = 'lanes = 4\n[size]\nrows = 6\n[beads]\nseed = "11/0"'
TILES = '[size]\nrows = 6\n[beads]\ntile = "half tile"'
LEAF = 'shape = """\n  A A\n A B A\nA B B A\n A B A\n  A A\n   A\n"""\n'
DESIGNS = {
    "ladder stitch": f'{SIX}{COLOURS}rows = "AB"\n',
    "brick stitch": f'{SIX}{COLOURS}lanes = "AABB"\n',
    "two-hole ladder": f'{TILES}{COLOURS}rows = "AAB"\n',
    "two-hole brick": f'lanes = 3\n{TILES}{COLOURS}lanes = "ABA"\n',
}
TEXTS = {
    **{stitch: HEAD.format(stitch) + text for stitch, text in DESIGNS.items()},
    "leaf": f'{HEAD.format("brick stitch")}[beads]\nseed = "11/0"{COLOURS}{LEAF}',
}


@pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS)
def test_every_step_is_said_and_drawn(text: str) -> None:
    """At 80 by 24 the whole of each step stands on the screen, beside its picture."""
    pattern = pattern_of(text)
    for row in range(pattern.row_count):
        for step in range(pattern.steps_in(row)):
            place = place_at(pattern, Position(row, step), words="full")
            lines = lines_of(place, 80, room_for_move(24, 0))
            said = " ".join("".join(text for text, _ in line) for line in lines)
            assert said.split()
            assert "…" not in said
            assert 10 == len(Sketch().lines(place, 52, 10))


def test_a_thread_to_go_under_is_no_hole() -> None:
    """It has no number, and the holes after it are numbered from 1."""
    place = place_at(pattern_of(TEXTS["brick stitch"]), Position(1, 0))
    lines = ["".join(text for text, _ in line) for line in lines_of(place, 80, 12)]
    under = next(line for line in lines if line.startswith(" GO UNDER"))
    assert ["GO", "UNDER", "the", "first", "thread,"] == under.split()[:5]
    back = next(line for line in lines if line.startswith(" GO BACK"))
    assert "1" == back.split()[2]


def test_a_shape_is_blank_beside_its_beads() -> None:
    """The strip of the whole band: each row as wide as it is drawn, nothing beside it."""
    pattern = pattern_of(TEXTS["leaf"])
    # 8 half beads over 8 places, the upper edge first; rows 1, 3 and 6 by hand.
    lanes = sample(pattern, 6, 8)
    across = ["".join(lane[row] for lane in lanes) for row in range(6)]
    assert ["  AAAA  ", " AABBAA ", "AABBBBAA", " AABBAA ", "  AAAA  ", "   AA   "] == across
    shown = preview_of(parse_design(TEXTS["leaf"], stitches=demands()))
    colours = {"A": "#2a7f8e", "B": "#e8dcc0"}
    drawn = [
        [strip.text for strip in strips(lanes, colours, 3, Dress(mono))] for mono in (False, True)
    ]
    # Two places a line, by hand; letters of what is done are large.
    assert [" ▄▀▄  ", "▀▀▀▀▀▄", "▀▀▀▀▀▀", " ▀▀▀  "] == drawn[0]
    assert [" AAa  ", "AABaaa"] == drawn[1][:2]
    assert "▄▄▀▄▄ " == whole_band(shown, 6, Dress(mono=False))[0].text


def test_rows_that_fill_their_lanes_are_shown_one_by_one() -> None:
    """Each place of the strip has the colours of its own row, not of two."""
    lanes = sample(pattern_of(TEXTS["ladder stitch"]), 6, 4)
    assert ["ABABAB"] * 4 == ["".join(lane) for lane in lanes]


@pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS)
def test_the_preview_draws_it(text: str) -> None:
    """The preview has the beads of the pattern, its picture and its strip."""
    shown = preview_of(parse_design(text, stitches=demands()))
    pattern = pattern_of(text)
    assert (pattern.totals, 6) == (shown.beads, shown.rows)
    for mono in (False, True):
        assert 10 == len(band_picture(shown.pattern, 40, 10, Dress(mono)))
        assert 2 == len(whole_band(shown, 40, Dress(mono)))


async def test_a_shape_can_be_edited(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Its form says how many rows are drawn and what it takes, and leaves the drawing alone."""
    monkeypatch.chdir(tmp_path)
    file = design_file(tmp_path, TEXTS["leaf"])
    async with at_work(tmp_path, None, size=(100, 40)) as pilot:
        await pilot.press("e")
        for _ in range(400):
            if "ROWS 6" in shown_text(pilot):
                break
            await asyncio.sleep(0.01)
            await pilot.pause()
        text = shown_text(pilot)
        assert "6 rows, drawn in its file" in text
        assert "ROWS 6" in text
        assert "4 sand 11/0" in text
        assert "two characters apart" not in text
    assert LEAF in file.read_text("utf-8")


async def test_tiles_without_seeds_are_stitched_and_counted(tmp_path: Path) -> None:
    """A band of tiles alone, from its supplies, counted, to its last row."""
    file = design_file(tmp_path, TEXTS["two-hole brick"])
    async with at_work(tmp_path, str(file)) as pilot:
        await pilot.press("i")
        assert isinstance(pilot.app.screen, SuppliesScreen)
        text = shown_text(pilot)
        assert "12 lagoon half tile, 14 with 10% spare" in text
        assert "6 sand half tile, 7 with 10% spare" in text
        assert "seed" not in text
        await pilot.press("enter", "9", "enter")
        await pilot.app.workers.wait_for_complete()
        assert "9 on hand 3 short" in shown_text(pilot)
        await pilot.press("q")
        assert isinstance(pilot.app.screen, Stitching)
        assert "9 on hand, 12 to go: 3 short" in shown_text(pilot)
        await pilot.press(*["space"] * 18)
        assert Position(6, 0) == place_on_disk(tmp_path)
        assert "all 6 rows done" in shown_text(pilot)
