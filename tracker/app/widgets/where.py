"""The line at the top: which piece, section, row, heading, step."""

from __future__ import annotations

from rich.cells import cell_len
from textual.geometry import Size
from textual.strip import Strip

from tracker.app.lines import column, line
from tracker.app.place import Place
from tracker.app.widgets.place_view import PlaceView

HEADING = {"up": "▲ up", "down": "▼ down"}


class Where(PlaceView):
    """Where the beader is."""

    def draw(self, place: Place, size: Size) -> list[Strip]:
        """Draw a place."""
        width = size.width
        bar = place.dress.bar
        return [line([(text_of(place, width), bar)], width, bar)]


def text_of(place: Place, width: int) -> str:
    """The line as one text."""
    left = place.left
    end = "READING ONLY " if place.read_only else f"by {place.by} "
    said = _place_in_words(place)
    if cell_len(said) + cell_len(end) + 4 > width and not left.finished:
        said = said.removeprefix(f"{left.section}   ")
    # The place matters more than the name: a long name is cut, not the row.
    room = width - cell_len(said) - cell_len(end) - 6
    name = place.name
    if cell_len(name) > room:
        name = column(name, room) if room > 1 else ""
    start = f" {name}   {said}" if name else f" {said}"
    return start + " " * max(1, width - cell_len(start) - cell_len(end)) + end


def _place_in_words(place: Place) -> str:
    left = place.left
    if place.finished:
        return f"all {left.rows} rows done"
    if place.unpicking is not None:
        goal = place.unpicking.row + 1
        return f"TAKING OUT to row {goal}   row {left.row}   step {left.step} of {left.steps}"
    heading = HEADING[place.pattern.row(place.position.row).heading]
    row = f"ROW {left.row} of {left.rows} {heading}"
    return f"{left.section}   {row}   STEP {left.step} of {left.steps}"
