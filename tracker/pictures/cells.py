"""The work drawn in the cells of a terminal.

A cell is taken as twice as high as it is wide and holds 2 x 2 pixels, of which two colours can
be shown (quadrant block characters). Beads lie in their true geometry; letters and marks stand
on top, so that the picture can be read where colours cannot: every tile bears the letter of
its colour, a finding a diamond; holes to go through are ringed and numbered in order, a bead to
pass by is crossed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from functools import lru_cache
from typing import NamedTuple, TypeVar

from tracker.beads.model import Finding
from tracker.colours.srgb import BLACK, WHITE, ink_on, luminance
from tracker.path.plane import Point, unrolled
from tracker.pictures.outlines import hole_centre
from tracker.pictures.raster import (
    FIRST_BEAD,
    HOLE,
    METAL,
    NEW,
    TARGET,
    WAY,
    WRONG,
    Raster,
    reach_of,
)
from tracker.pictures.scene import Drawn, Scene
from tracker.pictures.view import LEAST_SCALE, View
from tracker.records import record

# Pixels, by where they are: bit 0 top left, 1 top right, 2 bottom left, 3 bottom right.
_QUADRANTS = " ▘▝▀▖▌▞▛▗▚▐▜▄▙▟█"
_CROSS = "\N{BOX DRAWINGS LIGHT DIAGONAL CROSS}"
_FINDING = "◇"
"""What stands on a finding, which has no letter."""
_SHADES = "▒░▓"
UNDER = "∩"
"""Stands on a thread that the needle goes under."""
_OVER = (TARGET, WAY, WRONG, HOLE)


class Cell(NamedTuple):
    """One character with its colours, `#rrggbb` or "" for the terminal's own."""

    text: str
    front: str
    back: str
    bold: bool = False
    reverse: bool = False


@record(kw_only=True)
class Look:
    """Colours of everything that is not a bead; `mono` draws with characters alone."""

    ground: str = "#10141a"
    way: str = "#ffe14d"
    new: str = "#ffffff"
    hole: str = "#05070a"
    target: str = "#ffe14d"
    wrong: str = "#ff5c5c"
    metal: str = "#aeb6c2"
    mono: bool = False


Line = TypeVar("Line")


def draw(
    scene: Scene, view: View, colours: Mapping[str, str], look: Look
) -> list[tuple[Cell, ...]]:
    """The scene as rows of cells. `colours` gives each letter's `#rrggbb`."""
    return Painter().lines(scene, view, colours, look, tuple)


class Painter:
    """Draws scenes as lines. What a row leaves as it is, is drawn once for all its steps."""

    def __init__(self) -> None:
        self._settled: tuple[tuple[Drawn, ...], View, _Inks, _Drawing] | None = None

    def lines(
        self,
        scene: Scene,
        view: View,
        colours: Mapping[str, str],
        look: Look,
        line: Callable[[list[Cell]], Line],
    ) -> list[Line]:
        """The scene as lines to be shown, of which `line` makes one of a row of cells.

        `colours` gives each letter's `#rrggbb`. From key to key many rows stay as they are, and
        some come again: they are the same lines.
        """
        inks = _inks(look, tuple(colours.values()))
        known = self._settled
        if known is None or known[0] is not scene.settled or known[1:3] != (view, inks):
            drawing = _Drawing(view, colours, look, scene)
            drawing.put_down(scene.settled)
            drawing.keep()
            self._settled = known = (scene.settled, view, inks, drawing)
        drawing = known[3]
        drawing.go_back()
        drawing.put_down(scene.others)
        drawing.show_move(scene)
        return [
            _line(upper, lower, tuple(marked), inks, line)
            for upper, lower, marked in zip(*drawing.raster.rows(), drawing.marks.rows, strict=True)
        ]


class _Drawing:
    """Beads in pixels, and the marks that will stand on them."""

    def __init__(self, view: View, colours: Mapping[str, str], look: Look, scene: Scene) -> None:
        self._reach = max(map(reach_of, scene.shapes))
        self._view, self._colours, self._look = view, colours, look
        self.raster = Raster(view, colours, self._reach)
        self.marks = _Marks(view, look, scene.body)

    def keep(self) -> None:
        """Keep what is drawn, to go back to."""
        self.raster.keep()
        self.marks.keep()

    def go_back(self) -> None:
        """Go back to what was kept."""
        self.raster.go_back()
        self.marks.go_back()

    def put_down(self, beads: Iterable[Drawn]) -> None:
        """Draw those beads of which any is in view."""
        seen = _in_view(beads, self._view, self._reach)
        for drawn in sorted(seen, key=lambda d: (d.new, d.bead.kind == "seed")):
            self.raster.bead(drawn)
        for drawn in seen:
            self.marks.bead(drawn, self._colours[drawn.bead.colour])

    def show_move(self, scene: Scene) -> None:
        """Draw the move over the beads."""
        # The row in work goes by none but its own beads and those that are not settled.
        by = [drawn for drawn in scene.others if drawn.bead.id in scene.pass_by]
        for drawn in by:
            self.raster.cross(drawn)
        for piece in unrolled(scene.way, scene.around):
            self.raster.line(piece, WAY)
        for target in scene.targets:
            self.raster.ring(target.centre)
        for drawn in by:
            self.marks.cross(drawn)
        if scene.way:
            self.marks.put(scene.way[0], "●", self._look.way)
        for target in scene.targets:
            self.marks.ring(target.centre, str(target.order))
        for middle in scene.threads:
            self.marks.ring(middle, UNDER)


def _in_view(beads: Iterable[Drawn], view: View, reach: float) -> list[Drawn]:
    """Those beads of which anything, or of the marks on them, may be seen; told in haste."""
    left, right = view.left - reach, view.left + view.width / (2 * view.scale) + reach
    top, bottom = view.top + reach, view.top - view.height / view.scale - reach
    return [
        drawn
        for drawn in beads
        if left < drawn.bead.place.x < right and bottom < drawn.bead.place.y < top
    ]


class _Inks(NamedTuple):
    """What the bytes of a raster stand for: each of the colours is followed by its rim."""

    palette: tuple[str, ...]
    mono: bool


@lru_cache(maxsize=64)
def _inks(look: Look, colours: tuple[str, ...]) -> _Inks:
    beads = [tone for colour in colours for tone in (colour, rim_of(colour))]
    fixed = (look.ground, look.way, look.new, look.hole, look.target, look.wrong, look.metal)
    return _Inks((*fixed, *beads), look.mono)


@lru_cache(maxsize=1024)
def _line(
    upper: bytes,
    lower: bytes,
    marks: tuple[_Mark, ...],
    inks: _Inks,
    line: Callable[[list[Cell]], Line],
) -> Line:
    """What `line` makes of a row of cells, by its pixels and the marks on them."""
    known = _known_cells(inks)
    cells = []
    for four in zip(upper[::2], upper[1::2], lower[::2], lower[1::2], strict=True):
        cell = known.get(four)
        if cell is None:
            cell = known[four] = _plain_cell(four) if inks.mono else _cell(four, inks.palette)
        cells.append(cell)
    for column, text, front, back, reverse in marks:
        cells[column] = Cell(text, front, back or cells[column].back, True, reverse)
    return line(cells)


def _cell(four: tuple[int, int, int, int], palette: tuple[str, ...]) -> Cell:
    # The needle's way is never lost; of the rest the two commonest colours are shown.
    by_weight = sorted(set(four), key=lambda c: (c not in _OVER, -four.count(c), c))
    front = by_weight[0]
    back = by_weight[1] if len(by_weight) > 1 else front
    shape = sum(1 << i for i, colour in enumerate(four) if colour == front)
    if shape == 15:
        return Cell(" ", "", palette[front])
    return Cell(_QUADRANTS[shape], palette[front], palette[back])


def _plain_cell(four: tuple[int, int, int, int]) -> Cell:
    if WAY in four:
        shape = sum(1 << i for i, colour in enumerate(four) if colour == WAY)
        return Cell(_QUADRANTS[shape], "", "", bold=True)
    most = max(set(four), key=lambda c: (four.count(c), c))
    if most < FIRST_BEAD:
        return Cell("·" if most in (NEW, METAL) else " ", "", "")
    letter, rim = divmod(most - FIRST_BEAD, 2)
    return Cell(" " if rim else _SHADES[letter % len(_SHADES)], "", "")


@lru_cache(maxsize=8)
def _known_cells(inks: _Inks) -> dict[tuple[int, int, int, int], Cell]:  # noqa: ARG001  the key
    """The cells that four pixels have come to before, in these colours; filled as they come."""
    return {}


def rim_of(colour: str) -> str:
    """The colour of a bead's edge: darker than the bead, or lighter where that is dark itself."""
    if luminance(colour) > 0.06:
        return faded(colour, 0.4, BLACK)
    return faded(colour, 0.65, WHITE)


def faded(colour: str, share: float, back: str) -> str:
    """`#rrggbb` of which a share is left; the rest is `back`."""
    parts = ((int(colour[i : i + 2], 16), int(back[i : i + 2], 16)) for i in (1, 3, 5))
    return "#" + "".join(f"{round(part * share + over * (1 - share)):02x}" for part, over in parts)


# --- letters and marks ------------------------------------------------------------------------


class _Mark(NamedTuple):
    """A character that stands in a cell; it keeps the ground of what lies below if it has none."""

    column: int
    text: str
    front: str
    back: str
    reverse: bool


class _Marks:
    def __init__(self, view: View, look: Look, body: str) -> None:
        self._view = view
        self._look = look
        self._body = body
        """The kind of bead that bears large letters."""
        self.rows: list[list[_Mark]] = [[] for _ in range(view.height)]
        self._kept: list[tuple[_Mark, ...]] = []

    def keep(self) -> None:
        """Keep the marks that are there, to go back to."""
        self._kept = [tuple(row) for row in self.rows]

    def go_back(self) -> None:
        """Go back to what was kept."""
        self.rows = list(map(list, self._kept))

    def cross(self, drawn: Drawn) -> None:
        """Strike a bead of the body out."""
        if drawn.bead.kind == self._body:
            self._write((drawn.bead.place.x, drawn.bead.place.y), _CROSS, self._look.wrong)

    def bead(self, drawn: Drawn, colour: str) -> None:
        """A bead's letter, a small one on a seed; a tile's open hole, a finding's mark."""
        bead, look = drawn.bead, self._look
        middle = (bead.place.x, bead.place.y)
        if isinstance(drawn.shape, Finding):
            self.put(middle, _FINDING, look.metal)
            return
        if bead.kind != self._body:
            if self._view.scale >= LEAST_SCALE:
                self.put(middle, bead.colour.lower(), ink_on(colour), colour)
            return
        self.put(middle, bead.colour, ink_on(colour), colour)
        if bead.kind == "tile" and not drawn.new and "b" not in drawn.filled:
            self.put(hole_centre(drawn, "b"), "○", look.new)

    def ring(self, centre: Point, order: str) -> None:
        """The ring round a hole to go through, with its number in the order of the needle."""
        self._write(centre, order, self._look.target)

    def put(self, point: Point, text: str, front: str, back: str = "") -> None:
        """One character; it keeps the colour that lies below it unless one is given."""
        column, row = self._view.cell(point)
        self._mark(column, row, text, front, back)

    def _write(self, centre: Point, text: str, colour: str) -> None:
        column, row = self._view.cell(centre)
        column -= len(text) // 2
        for i, letter in enumerate(text):
            self._mark(column + i, row, letter, colour, self._look.hole, reverse=True)

    def _mark(
        self, column: int, row: int, text: str, front: str, back: str, *, reverse: bool = False
    ) -> None:
        """Without colours only what is written over all else is reversed."""
        if 0 <= row < self._view.height and 0 <= column < self._view.width:
            mono = self._look.mono
            colours = ("", "") if mono else (front, back)
            self.rows[row].append(_Mark(column, text, *colours, reverse and mono))
