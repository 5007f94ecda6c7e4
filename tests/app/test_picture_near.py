"""The picture leaves out what is far away, and nothing that is to be seen."""

from functools import cache
from pathlib import Path

import pytest
from hands import place_at

from tracker.app.lines import cell_line
from tracker.app.widgets.picture import Sketch, view_of
from tracker.pattern.model import Pattern
from tracker.pattern.reader import parse_pattern
from tracker.pictures.cells import draw
from tracker.pictures.scene import scene_at
from tracker.progress.position import By, Position

DEMOS = sorted((Path(__file__).resolve().parents[2] / "patterns").glob("*.pattern.toml"))
SIZES = ((30, 8), (52, 12), (170, 44))
PLACES = 24
"""Places of a demo that are looked at, spread over all of it."""


@cache
def demo(path: Path) -> Pattern:
    """A demo."""
    return parse_pattern(path.read_text("utf-8"))


def positions(pattern: Pattern) -> list[Position]:
    """Places from the first to the end, the last rows all of them."""
    rows = pattern.row_count
    every = [Position(r, s) for r in range(rows) for s in range(pattern.steps_in(r))]
    closing = [place for place in every if place.row >= pattern.woven_rows]
    return [*every[:: max(1, len(every) // PLACES)], *closing, Position(rows, 0)]


@pytest.mark.parametrize("by", ["step", "row"])
@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_nothing_in_view_is_left_out(path: Path, by: By) -> None:
    """It is the picture of the whole piece, as far as that is in view."""
    pattern = demo(path)
    colours = {colour.letter: colour.hex for colour in pattern.colours}
    sketches = {size: Sketch() for size in SIZES}
    for position in positions(pattern):
        place = place_at(pattern, position, by=by)
        whole = scene_at(pattern, *position, back=pattern.row_count, whole_row=by == "row")
        for width, height in SIZES:
            view = view_of(pattern, whole.focus, width, height, position.row)
            cells = draw(whole, view, colours, place.dress.cells)
            strips = sketches[width, height].lines(place, width, height)
            assert [cell_line(row) for row in cells] == strips, position
