"""The whole band as a strip: what is done, what is to come, and where the needle is."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from itertools import chain

from rich.cells import cell_len
from textual.geometry import Size
from textual.strip import Strip

from tracker.app.lines import cell_line, half_cells, line
from tracker.app.look import Dress
from tracker.app.place import Place
from tracker.app.widgets.place_view import PlaceView
from tracker.colours.srgb import BLACK, WHITE
from tracker.path.band import sampled_row
from tracker.pattern.model import Pattern
from tracker.pictures.cells import Cell, faded

TO_COME = 0.38
"""Of the colours of what is to come so much is left."""


class Band(PlaceView):
    """The strip. It is sampled once for its size; a key press only moves the needle."""

    def __init__(self, *, id: str) -> None:  # noqa: A002  Textual's own word
        super().__init__(id=id)
        self._sampled: tuple[Pattern, int, int, list[list[str]]] | None = None
        self._moved_to: tuple[tuple[list[list[str]], int, Dress] | None, list[Strip]] = (None, [])

    def draw(self, place: Place, size: Size) -> list[Strip]:
        """Show a place."""
        width, height = size
        if width < 4 or height < 2:
            return []
        length = band_cells(place.pattern, width - 2)
        lanes = self._lanes(place.pattern, length, height - 1)
        woven = place.pattern.woven_rows
        needle = length * min(place.position.row, woven) // woven
        return [*self._lines_at(place, lanes, needle), _caption(place, lanes, needle, width)]

    def _lines_at(self, place: Place, lanes: list[list[str]], needle: int) -> list[Strip]:
        # The needle stays where it is for a row, and of a long band for many.
        shown, known = self._moved_to
        if shown is None or shown[0] is not lanes or shown[1:] != (needle, place.dress):
            colours = {c.letter: c.hex for c in place.pattern.colours}
            margin = list(line([], 1, place.dress.text()))
            drawn = strips(lanes, colours, needle, place.dress)
            known = [Strip([*margin, *strip]) for strip in drawn]
            self._moved_to = ((lanes, needle, place.dress), known)
        return known

    def _lanes(self, pattern: Pattern, length: int, lines: int) -> list[list[str]]:
        known = self._sampled
        if known is None or known[0] is not pattern or known[1:3] != (length, lines):
            self._sampled = known = (pattern, length, lines, sample(pattern, length, 2 * lines))
        return known[3]


def band_cells(pattern: Pattern, room: int) -> int:
    """Cells that the strip is long: no more than the band has rows, so that each shows."""
    return max(1, min(room, max(pattern.woven_rows, room // 2)))


def sample(pattern: Pattern, length: int, lanes: int) -> list[list[str]]:
    """Letters of the colours, lane by lane from the upper edge, at `length` places."""
    columns: list[list[str]] = []
    for i in range(length):
        row = i * pattern.woven_rows // length
        columns.append(_across(pattern, row, lanes))
    return [list(lane) for lane in zip(*columns, strict=True)]


def _across(pattern: Pattern, row: int, lanes: int) -> list[str]:
    """Letters of the colours at a row, from the upper edge; of a rank where rows fill half of it.

    A row that has a bead in every lane, or at the heights of its neighbour, fills the width by
    itself. Beside a shape there are spaces.
    """
    if pattern.outline:
        upwards = sorted(pattern.row(row).beads, key=lambda b: b.place.y)
        return sampled_row(pattern.outline, row, "".join(b.colour for b in upwards), lanes)
    first = row - row % 2
    rank = [first, min(first + 1, pattern.woven_rows - 1)]
    beads = [pattern.across(r) for r in rank]
    heights = [{y for y, _ in found} for found in beads]
    if heights[0] & heights[1] or 0 < pattern.wide <= len(beads[row - first]):
        beads, heights = [beads[row - first]], [heights[row - first]]
    across = [colour for _, colour in sorted(chain(*beads), key=lambda bead: -bead[0])]
    if not across:  # a row that picks nothing up
        return [" "] * lanes
    return [across[lane * len(across) // lanes] for lane in range(lanes)]


def strips(
    lanes: list[list[str]], colours: Mapping[str, str], needle: int, dress: Dress
) -> list[Strip]:
    """A sampled band as lines, two lanes a line; what lies before the needle is done.

    `colours` are `#rrggbb` by letter; without colours there are letters, small ones to come.
    """
    back = BLACK if dress.tones.dark else WHITE
    dim = {letter: faded(code, TO_COME, back) for letter, code in colours.items()}

    @cache  # a band has few pairs of colours, and many cells
    def cell(top: str, bottom: str, *, done: bool) -> Cell:
        if dress.mono:
            said = top if top != " " else bottom
            return Cell(said if done else said.lower(), "", "", bold=done)
        tone = colours if done else dim
        return half_cells(tone.get(top, ""), tone.get(bottom, ""))

    return [
        cell_line([cell(*pair, done=i < needle) for i, pair in enumerate(zip(*two, strict=True))])
        for two in zip(lanes[::2], lanes[1::2], strict=True)
    ]


def letters_in(lanes: list[list[str]]) -> list[str]:
    """The colours of a sampled band, in the order of their letters."""
    return sorted(set().union(*lanes) - {" "})


def _caption(place: Place, lanes: list[list[str]], needle: int, width: int) -> Strip:
    look: Dress = place.dress
    left = place.left
    if left.finished:
        text = f"{left.rows} rows, about {left.length:.0f} mm"
    else:
        text = f"row {left.row}, about {left.length:.0f} of {left.target:.0f} mm"
    mark = " " * (needle + 1) + "▲"
    if needle + len(text) + 4 <= width:
        runs = [(mark, look.label), (f" {text}", look.quiet)]
    else:
        runs = [(f"{text:>{needle}} ", look.quiet), ("▲", look.label)]
    used = sum(cell_len(said) for said, _ in runs)
    chips = [
        look.chip(place.pattern.colour(letter), "tile", tight=True) for letter in letters_in(lanes)
    ]
    wide = sum(cell_len(chip) for chip, _ in chips)
    if not look.mono and used + wide + 2 <= width:
        # The strip itself has no room for letters, so its colours are named below it.
        runs += [(" " * (width - used - wide - 1), look.quiet), *chips]
    return line(runs, width, look.text())
