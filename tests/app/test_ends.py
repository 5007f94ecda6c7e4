"""The ends of a piece on the screen: every step of every closure, with its cautions."""

from __future__ import annotations

from itertools import product
from pathlib import Path

import pytest
from hands import at_work, design_file, design_text, pattern_of, place_at, shown_text

from tracker.app.screens.stitching import room_for_move
from tracker.app.widgets.band import sample
from tracker.app.widgets.now import lines_of
from tracker.app.widgets.picture import Sketch
from tracker.progress.position import By, Position

CLOSURES = ("wire guards", "bead loops", "ribbon ends", "button loop")
BYS: tuple[By, ...] = ("step", "row")


def closed(kind: str, columns: int = 2, rows: int = 6) -> str:
    """A design with a closure."""
    return f'{design_text(columns, rows)}\n[closure]\nkind = "{kind}"\n'


@pytest.mark.parametrize(("kind", "columns"), list(product(CLOSURES, (2, 5))))
def test_every_step_is_said_and_drawn(kind: str, columns: int) -> None:
    """At 80 by 24, by steps and by rows, the whole move stands on the screen."""
    pattern = pattern_of(closed(kind, columns))
    ends = range(pattern.woven_rows, pattern.row_count)
    for row in ends:
        for step in range(pattern.steps_in(row)):
            for by in BYS:
                place = place_at(pattern, Position(row, step), by=by)
                lines = lines_of(place, 80, room_for_move(24, 0))
                said = " ".join(text for line in lines for text, _ in line)
                assert said.split()
                assert "…" not in said
                assert 10 == len(Sketch().lines(place, 52, 10))
    assert {78} == {len(lane) for lane in sample(pattern, 78, 4)}


@pytest.mark.parametrize(
    ("kind", "words"),
    [
        ("wire guards", "nickel"),
        ("ribbon ends", "adhesive"),
        ("bead loops", "nickel"),
    ],
)
def test_cautions_stand_at_their_steps(kind: str, words: str) -> None:
    """Metal and glue are cautioned where they are used, and the makers' word is referred to."""
    pattern = pattern_of(closed(kind))
    cautions = set()
    for row in range(pattern.woven_rows, pattern.row_count):
        for step in range(pattern.steps_in(row)):
            place = place_at(pattern, Position(row, step))
            lines = lines_of(place, 80, room_for_move(24, 0))
            text = " ".join(t.strip() for line in lines for t, _ in line)
            if "CAUTION" in text:
                cautions.add(text.partition("CAUTION")[2].lower())
    assert any(words in caution for caution in cautions)
    assert any("maker" in caution for caution in cautions)


async def test_the_ends_are_stitched_to_the_last_check(tmp_path: Path) -> None:
    """From the last row through levelling, loops, knots and the tail to the end, key by key."""
    design = design_file(tmp_path, closed("wire guards"))
    async with at_work(tmp_path, str(design)) as pilot:
        await pilot.press("g", "6", "enter")
        seen = ""
        for _ in range(60):
            await pilot.press("space")
            seen += shown_text(pilot)
        assert "levelling" in seen
        assert "the other leg of the wire guard" in seen
        assert "half-hitch knot" in seen
        assert "thread the needle on the tail" in seen
        assert "rows are woven" in shown_text(pilot)
