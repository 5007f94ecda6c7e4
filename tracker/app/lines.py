"""Lines of styled text for the widgets: made once, repainted only where they changed."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache
from itertools import groupby, zip_longest
from operator import itemgetter

from rich.cells import cell_len, set_cell_size
from rich.segment import Segment
from rich.style import Style
from textual.geometry import Region
from textual.strip import Strip
from textual.widget import Widget

from tracker.pictures.cells import Cell

Run = tuple[str, Style]


@lru_cache(maxsize=4096)
def style(
    front: str = "", back: str = "", bold: bool = False, reverse: bool = False, dim: bool = False
) -> Style:
    """A style by its colours, "" for the terminal's own."""
    return Style(
        color=front or None,
        bgcolor=back or None,
        bold=bold or None,
        reverse=reverse or None,
        dim=dim or None,
    )


def on_any_ground(look: Style) -> Style:
    """A style without its background, for text that takes that of what it lies on."""
    return Style(color=look.color, bold=look.bold)


def line(runs: Iterable[Run], width: int, ground: Style) -> Strip:
    """Runs of text as one line, cut or filled to `width` cells; the same line for the same runs."""
    return _line(tuple(runs), width, ground)


@lru_cache(maxsize=1024)
def _line(runs: tuple[Run, ...], width: int, ground: Style) -> Strip:
    parts: list[Run] = []
    room = width
    for whole, look in runs:
        text, cells = whole, cell_len(whole)
        if cells > room:
            # The cut is shown, so that nobody takes half a colour's name for the whole.
            text = column(text, room)
            cells = room
        parts.append((text, ground + look))
        room -= cells
        if room <= 0:
            break
    if room > 0:
        parts.append((" " * room, ground))
    alike = groupby(parts, key=itemgetter(1))
    segments = (Segment("".join(text for text, _ in run), look) for look, run in alike)
    return Strip([segment for segment in segments if segment.text], width)


def column(text: str, width: int) -> str:
    """A text filled to `width` cells; one that is too long ends with an ellipsis."""
    if cell_len(text) <= width:
        return set_cell_size(text, width)
    return set_cell_size(text, width - 1) + "…" if width > 0 else ""


def spoken(text: str, look: Style) -> list[Run]:
    """A text as one run a word, for `fold`."""
    return [(f"{word} ", look) for word in text.split()]


def fold(runs: Iterable[Run], width: int, indent: int) -> list[list[Run]]:
    """Runs over as many lines of `width` cells as they need: what is said is never cut.

    A run is kept together unless it is longer than a line. Lines after the first are indented.
    """
    together = list(runs)
    if cell_len("".join(text for text, _ in together)) <= width:
        return [together]
    lines: list[list[Run]] = [[]]
    used = 0
    for whole, look in together:
        text = whole
        while cell_len(text.rstrip()) > max(0, width - used):
            # Only what would not fit on a line of its own either is broken.
            head = "" if used > indent else _first_cells(text, width - used)
            if head:
                lines[-1].append((head, look))
            lines.append([(" " * indent, Style())])
            text, used = text[len(head) :], indent
        if cell_len(text) > width - used:
            text = text.rstrip()
        if text:
            lines[-1].append((text, look))
            used += cell_len(text)
    return lines


def _first_cells(text: str, room: int) -> str:
    """As many characters as fit into `room` cells, one at least."""
    count = 1
    while count < len(text) and cell_len(text[: count + 1]) <= room:
        count += 1
    return text[:count]


def half_cells(upper: str, lower: str) -> Cell:
    """Two halves of a cell in their colours, "" for what shows the ground."""
    if not upper:
        return Cell("▄", lower, "") if lower else Cell(" ", "", "")
    return Cell("▀", upper, lower)


def cell_line(cells: Sequence[Cell]) -> Strip:
    """A row of cells as one line."""
    segments = [
        Segment("".join(map(_TEXT, run)), style(*key)) for key, run in groupby(cells, key=_LOOK)
    ]
    return Strip(segments, len(cells))


_TEXT = itemgetter(0)
_LOOK = itemgetter(1, 2, 3, 4)
"""All of a cell but its text."""


class Lines(Widget):
    """A widget that shows the lines it is given."""

    DEFAULT_CSS = "Lines { width: 1fr; height: 1fr; }"

    def __init__(self, *, id: str) -> None:  # noqa: A002  Textual's own word
        super().__init__(id=id)
        self._lines: list[Strip] = []

    def show(self, lines: list[Strip]) -> None:
        """Show `lines`, repainting those that differ from the last ones."""
        before, self._lines = self._lines, lines
        if parts := changed(before, lines, self.size.region):
            self.refresh(*parts)

    def render_lines(self, crop: Region) -> list[Strip]:
        """The lines as they are: they have no border, and their colours are the terminal's.

        Textual's own way to them takes longer than all that is drawn on them.
        """
        width, height = self.size
        ground = self.rich_style
        lines = [strip.adjust_cell_length(width, ground) for strip in self._lines]
        lines += [Strip.blank(width, ground)] * (height - len(lines))
        return cropped(lines, crop, width)


def changed(before: Sequence[Strip], lines: Sequence[Strip], region: Region) -> list[Region]:
    """The parts of a region in which lines are others than before."""
    ys = [
        y
        for y, (old, new) in enumerate(zip_longest(before, lines))
        if old is not new and old != new
    ]
    # One part for lines that follow each other: what they have in common is y less their number.
    runs = [list(run) for _, run in groupby(enumerate(ys), key=lambda each: each[1] - each[0])]
    return [Region(region.x, region.y + run[0][1], region.width, len(run)) for run in runs]


def cropped(lines: list[Strip], crop: Region, width: int) -> list[Strip]:
    """The part of lines of `width` cells that lies in `crop`."""
    strips = lines[crop.y : crop.bottom]
    if crop.column_span == (0, width):
        return strips
    return [strip.crop(*crop.column_span) for strip in strips]
