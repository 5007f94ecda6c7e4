"""Painting a chart cell by cell, the band drawn beside it."""

from __future__ import annotations

from dataclasses import replace
from string import ascii_uppercase
from typing import ClassVar

from rich.text import Text
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal
from textual.screen import Screen
from textual.widgets import Static

from tracker.app.look import Dress
from tracker.app.widgets.chart_grid import ChartGrid, room_for
from tracker.app.widgets.preview import PreviewPane
from tracker.design import painting
from tracker.design.editing import Draft
from tracker.design.model import Colour
from tracker.design.painting import Painting

KEYS = " Arrows  A-Z paint  Space again  + - rank  Ctrl+Z undo  Esc back"

_ARROWS = {"up": (-1, 0), "down": (1, 0), "left": (0, -1), "right": (0, 1)}


class Painter(Screen[tuple[str, ...]]):
    """Gives back the lines of the chart."""

    CSS_PATH = "../forms.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        *(
            Binding(key, f"move({ranks}, {lanes})", key, id=f"paint_{key}", show=False)
            for key, (ranks, lanes) in _ARROWS.items()
        ),
        *(
            Binding(f"shift+{key}", f"brush({ranks}, {lanes})", key, id=f"brush_{key}", show=False)
            for key, (ranks, lanes) in _ARROWS.items()
        ),
        *(
            Binding(f"{letter},{letter.lower()}", f"paint('{letter}')", letter, show=False)
            for letter in ascii_uppercase
        ),
        Binding("home", "move(0, -99)", "first lane", id="first_lane", show=False),
        Binding("end", "move(0, 99)", "last lane", id="last_lane", show=False),
        Binding("pageup", "move(-10, 0)", "back", id="ranks_back", show=False),
        Binding("pagedown", "move(10, 0)", "on", id="ranks_on", show=False),
        Binding("space", "again", "paint", id="paint_again", show=False),
        Binding("insert,plus", "change('insert_rank')", "insert a rank", id="insert_rank"),
        Binding("delete,minus", "change('delete_rank')", "delete the rank", id="delete_rank"),
        Binding("ctrl+z", "change('undo')", "undo", id="undo_painting"),
        Binding("escape,enter,f2,f4", "back", "back", id="painted"),
    ]

    def __init__(self, draft: Draft, old_text: str, lanes: int, dress: Dress) -> None:
        """`draft` has colours without faults, one at least."""
        super().__init__()
        self._draft = draft
        self._old_text = old_text
        self._dress = dress
        self._codes = {colour.letter: colour.hex for colour in draft.colours}
        letters = list(self._codes)
        usual = next((letter for letter in letters if letter != draft.seeds), letters[0])
        self.painting: Painting = painting.begun(draft.lines, lanes, letters, usual)

    def compose(self) -> ComposeResult:
        """The title, the grid beside the band, the colours, the keys."""
        yield Static(Text(" Painting the chart", self._dress.bar), id="where")
        with Horizontal(id="middle"):
            grid = ChartGrid(self._dress, self._codes, id="grid")
            grid.styles.width = room_for(len(self.painting.lines[0]))
            yield grid
            yield PreviewPane(self._dress, id="preview", figures_shown=False)
        yield Static(id="palette")
        yield Static(Text(KEYS, self._dress.foot), id="foot")

    def on_mount(self) -> None:
        """Show the chart."""
        self._show()

    def action_move(self, ranks: int, lanes: int) -> None:
        """Move the cursor."""
        self._have(painting.move(self.painting, ranks, lanes))

    def action_brush(self, ranks: int, lanes: int) -> None:
        """Move the cursor and paint where it comes to."""
        moved = painting.move(self.painting, ranks, lanes)
        self._have(painting.paint(moved, moved.letter))

    def action_paint(self, letter: str) -> None:
        """Paint in the colour of a letter."""
        if letter in self._codes:
            self._have(painting.paint(self.painting, letter))

    def action_again(self) -> None:
        """Paint in the colour in use."""
        self._have(painting.paint(self.painting, self.painting.letter))

    def action_change(self, what: str) -> None:
        """Insert or delete a rank, or take the last change back."""
        changes = {
            "insert_rank": painting.insert_rank,
            "delete_rank": painting.delete_rank,
            "undo": painting.undo,
        }
        self._have(changes[what](self.painting))

    def action_back(self) -> None:
        """Give the chart back."""
        self.dismiss(self.painting.lines)

    def _have(self, new: Painting) -> None:
        self.painting = new
        self._show()

    def _show(self) -> None:
        self.query_one(ChartGrid).show_painting(self.painting)
        self.query_one("#palette", Static).update(self._palette())
        draft = replace(self._draft, layout="chart", lines=self.painting.lines)
        self.query_one(PreviewPane).want(draft, self._old_text)

    def _palette(self) -> Text:
        """The colours, the one in use marked."""
        said = Text(no_wrap=True, overflow="ellipsis")
        for colour in self._draft.colours:
            chip = self._dress.chip(Colour(colour.letter, "", colour.hex), "tile")
            mark = "▸" if colour.letter == self.painting.letter else " "
            said.append(mark)
            said.append(*chip)
            said.append(f" {colour.name} ")
        return said
