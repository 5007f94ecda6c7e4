"""A chart as a grid of letters on their colours, with a cursor."""

from __future__ import annotations

from collections.abc import Mapping

from textual.strip import Strip

from tracker.app.lines import Lines, Run, line, style
from tracker.app.look import Dress
from tracker.colours.srgb import ink_on
from tracker.design.painting import Painting

NUMBER = 5
"""Cells of a rank's number and the gap behind it."""
CELL = 2


HEAD = 30
"""Cells of the line above the ranks."""


def room_for(lanes: int) -> int:
    """Cells that a grid of so many lanes is wide."""
    return max(HEAD, NUMBER + CELL * lanes + 2)


class ChartGrid(Lines):
    """The part of the chart round the cursor that there is room for."""

    DEFAULT_CSS = "ChartGrid { max-width: 66%; height: 1fr; }"

    def __init__(self, dress: Dress, codes: Mapping[str, str], *, id: str) -> None:  # noqa: A002  Textual's own word
        super().__init__(id=id)
        self._dress = dress
        self._codes = codes
        self._painting: Painting | None = None

    def show_painting(self, painting: Painting) -> None:
        """Show a painting."""
        self._painting = painting
        if self.size:
            self.show(self._strips(painting))

    def on_resize(self) -> None:
        """Show it in the new size."""
        if self._painting is not None:
            self.show(self._strips(self._painting))

    def _strips(self, painting: Painting) -> list[Strip]:
        wide, high = self.size
        lanes = max(1, (wide - NUMBER - 1) // CELL)
        first = _first(painting.lane, lanes, len(painting.lines[0]))
        top = _first(painting.rank, max(1, high - 1), len(painting.lines))
        ground, quiet = self._dress.text(), self._dress.quiet
        head = f"{'rank':>{NUMBER - 1}}  lane {painting.lane + 1} of {len(painting.lines[0])}"
        head += f", {len(painting.lines)} ranks"
        strips = [line([(head, quiet)], wide, ground)]
        for rank in range(top, min(len(painting.lines), top + high - 1)):
            here = rank == painting.rank
            number = self._dress.label if here else quiet
            runs: list[Run] = [(f"{rank + 1:>{NUMBER - 1}} ", number)]
            for lane, letter in enumerate(painting.lines[rank][first : first + lanes], first):
                runs += self._cell(letter, cursor=here and lane == painting.lane)
            strips.append(line(runs, wide, ground))
        return strips

    def _cell(self, letter: str, *, cursor: bool) -> list[Run]:
        if self._dress.mono:
            # Brackets would need a third cell: the cursor is reversed, or so it is meant to be.
            return [(f"{letter}<" if cursor else f"{letter} ", style("", "", cursor, cursor))]
        code = self._codes.get(letter, "#000000")
        text = f"{letter}◂" if cursor else f"{letter} "
        return [(text, style(ink_on(code), code, cursor, cursor))]


def _first(at: int, room: int, there: int) -> int:
    """The first of `room` things to show so that `at` is among them, near the middle."""
    return max(0, min(at - room // 2, there - room))
