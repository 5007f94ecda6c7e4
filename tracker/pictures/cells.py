"""The work drawn in the cells of a terminal.

A cell is taken as twice as high as it is wide and holds 2 x 2 pixels, of which two colours can
be shown (quadrant block characters). Beads lie in their true geometry; letters and marks stand
on top, so that the picture can be read where colours cannot: every tile bears the letter of
its colour, a finding a diamond; holes to go through are ringed and numbered in order, a bead to
pass by is crossed.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple, TypeVar

from tracker.beads.model import Finding, Seed, Shape
from tracker.colours.srgb import BLACK, WHITE, ink_on, luminance
from tracker.path.plane import Point, unrolled
from tracker.pictures.outlines import hole_centre, size_in_plane
from tracker.pictures.scene import Drawn, Scene
from tracker.pictures.stamps import PARTS, Layer, Layers, stamp
from tracker.records import record

LEAST_SCALE, MOST_SCALE = 1.3, 2.6
"""Rows of cells to a millimetre: below, holes run into each other; above, little is gained."""
ROUNDING = 1e-6
"""Of lengths so small, mm, nothing can be seen."""
STRIDE = 0.25
"""The share of its height that a view goes across a wide band at a time, at most."""
AT = 0.62
"""The share of the width of a view at which its focus stands."""
RING, CROSS_ARM, OPEN_HOLE = 0.95, 0.9, 0.45
"""Radius of the ring round a target, half the cross's width, radius of an open hole, mm."""

# Pixels, by where they are: bit 0 top left, 1 top right, 2 bottom left, 3 bottom right.
_QUADRANTS = " ▘▝▀▖▌▞▛▗▚▐▜▄▙▟█"
_CROSS = "\N{BOX DRAWINGS LIGHT DIAGONAL CROSS}"
_FINDING = "◇"
"""What stands on a finding, which has no letter."""
_SHADES = "▒░▓"
UNDER = "∩"
"""Stands on a thread that the needle goes under."""
_GROUND, _WAY, _NEW, _HOLE, _TARGET, _WRONG, _METAL, _FIRST_BEAD = range(8)
_OVER = (_TARGET, _WAY, _WRONG, _HOLE)


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


@record
class View:
    """Which part of the plane the cells show."""

    width: int
    height: int
    """In cells."""
    scale: float
    """Rows of cells to a millimetre."""
    left: float
    top: float
    """x of the left edge and y of the upper one, mm."""

    def cell(self, point: Point) -> tuple[int, int]:
        """Column and row of the cell in which a point lies; it may be outside."""
        x, y = self.pixel(point)
        return (math.floor(x / 2), math.floor(y / 2))

    def middle(self, point: Point) -> Point:
        """The middle of the cell in which a point lies, in the plane."""
        column, row = self.cell(point)
        return (
            self.left + (column + 0.5) / (2 * self.scale),
            self.top - (row + 0.5) / self.scale,
        )

    def pixel(self, point: Point) -> Point:
        """A point in pixels, from the upper left."""
        return ((point[0] - self.left) * 4 * self.scale, (self.top - point[1]) * 2 * self.scale)


def scale_for(height: int, low: float, high: float, least: float = LEAST_SCALE) -> float:
    """Rows of cells to a millimetre at which `height` rows show from y = `low` to `high` (mm)."""
    return min(MOST_SCALE, max(least, height / (high - low)))


def view_for(
    width: int,
    height: int,
    *,
    low: float,
    high: float,
    focus: Point,
    least: float = LEAST_SCALE,
) -> View:
    """A view of `width` x `height` cells of a band that reaches from y = `low` to `high` (mm).

    The whole width of the band is shown if it can be; else the part around the focus is. The
    focus stands at the share `AT` of the width, so that the finished work is seen behind it.
    """
    scale = scale_for(height, low, high, least)
    tall, wide = height / scale, width / (2 * scale)
    hidden = high - low - tall
    if hidden <= ROUNDING:  # a scale made to fit does so up to rounding
        top = (high + low + tall) / 2
    else:
        # It goes with the move in strides, so that it stays still for some steps.
        strides = math.ceil(hidden / (tall * STRIDE))
        above = min(hidden, max(0.0, high - (focus[1] + tall / 2)))
        top = high - hidden * round(strides * above / hidden) / strides
    return View(width, height, scale, focus[0] - AT * wide, top)


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
            for upper, lower, marked in zip(*drawing.canvas.rows(), drawing.marks.rows, strict=True)
        ]


class _Drawing:
    """Beads in pixels, and the marks that will stand on them."""

    def __init__(self, view: View, colours: Mapping[str, str], look: Look, scene: Scene) -> None:
        self._reach = max(map(reach_of, scene.shapes))
        self._view, self._colours, self._look = view, colours, look
        self.canvas = _Canvas(view, colours, self._reach)
        self.marks = _Marks(view, look, scene.body)

    def keep(self) -> None:
        """Keep what is drawn, to go back to."""
        self.canvas.keep()
        self.marks.keep()

    def go_back(self) -> None:
        """Go back to what was kept."""
        self.canvas.go_back()
        self.marks.go_back()

    def put_down(self, beads: Iterable[Drawn]) -> None:
        """Draw those beads of which any is in view."""
        seen = _in_view(beads, self._view, self._reach)
        for drawn in sorted(seen, key=lambda d: (d.new, d.bead.kind == "seed")):
            self.canvas.bead(drawn)
        for drawn in seen:
            self.marks.bead(drawn, self._colours[drawn.bead.colour])

    def show_move(self, scene: Scene) -> None:
        """Draw the move over the beads."""
        # The row in work goes by none but its own beads and those that are not settled.
        by = [drawn for drawn in scene.others if drawn.bead.id in scene.pass_by]
        for drawn in by:
            self.canvas.cross(drawn)
        for piece in unrolled(scene.way, scene.around):
            self.canvas.line(piece, _WAY)
        for target in scene.targets:
            self.canvas.ring(target.centre)
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


def reach_of(shape: Shape) -> float:
    """How far from a bead's middle it and the marks on it reach at most, mm."""
    return math.hypot(*size_in_plane(shape)) / 2 + RING


# --- pixels ------------------------------------------------------------------------------


class _Canvas:
    """Pixels, more of them on each side than are in view: so no bead that is has to be cut."""

    def __init__(self, view: View, colours: Mapping[str, str], reach: float) -> None:
        self.view = view
        # Of what is in view no more than this lies outside.
        self._across = math.ceil(2 * reach * 4 * view.scale) + 1
        self._along = math.ceil(2 * reach * 2 * view.scale) + 1
        self._wide = 2 * (view.width + self._across)
        self._pixels = [bytearray(self._wide) for _ in range(2 * (view.height + self._along))]
        self._kept: list[bytes] = []
        self._bodies = {letter: _FIRST_BEAD + 2 * i for i, letter in enumerate(colours)}
        self._layers: dict[tuple[str, int, int], Layers] = {}

    def keep(self) -> None:
        """Keep what is drawn, to go back to."""
        self._kept = list(map(bytes, self._pixels))

    def go_back(self) -> None:
        """Go back to what was kept."""
        self._pixels = list(map(bytearray, self._kept))

    def bead(self, drawn: Drawn) -> None:
        bead = drawn.bead
        body = self._bodies[bead.colour]
        rim = _NEW if drawn.new else body + 1
        layers = self._layers.get((bead.shape, rim, body))
        if layers is None:
            layers = _layers_of(drawn.shape, self.view.scale, rim, body)
            self._layers[bead.shape, rim, body] = layers
        x, y, tilt = bead.place
        self._put(layers, (x, y), tilt)
        if bead.kind == "tile" and not drawn.new and "b" not in drawn.filled:
            self._put(_OPEN, self.view.middle(hole_centre(drawn, "b")))

    def cross(self, drawn: Drawn) -> None:
        """Strike a bead out."""
        x, y = self.view.middle((drawn.bead.place.x, drawn.bead.place.y))
        arm = CROSS_ARM
        for shift in (0.0, 0.25 / self.view.scale):
            self.line(((x - arm + shift, y - arm), (x + arm + shift, y + arm)), _WRONG)
            self.line(((x - arm + shift, y + arm), (x + arm + shift, y - arm)), _WRONG)

    def ring(self, centre: Point) -> None:
        """A ring round a hole, dark inside, where its number will stand."""
        # Its number stands in a cell, so the ring is drawn round the middle of that.
        self._put(_ring(self.view.scale), self.view.middle(centre))

    def line(self, points: tuple[Point, ...], colour: int) -> None:
        high, wide = 2 * self.view.height, 2 * self.view.width
        for start, end in pairwise(points):
            (x1, y1), (x2, y2) = self.view.pixel(start), self.view.pixel(end)
            steps = max(1, math.ceil(max(abs(x2 - x1), abs(y2 - y1))))
            across, down = (x2 - x1) / steps, (y2 - y1) / steps
            # Of a line that comes from far away only the part in view is walked along.
            in_x, in_y = _within(x1, across, wide, steps), _within(y1, down, high, steps)
            for i in range(max(in_x.start, in_y.start), min(in_x.stop, in_y.stop)):
                x, y = math.floor(x1 + across * i), math.floor(y1 + down * i)
                if 0 <= y < high and 0 <= x < wide:
                    self._pixels[self._along + y][self._across + x] = colour

    def _put(self, layers: Layers, centre: Point, tilt: float = 0.0) -> None:
        """Put down a bead, if any of it is in view."""
        x, y = self.view.pixel(centre)
        column, right = divmod(round(x * PARTS), PARTS)
        row, down = divmod(round(y * PARTS), PARTS)
        runs, *box = stamp(layers, tilt, self.view.scale, right, down)
        row, column = row + self._along, column + self._across
        top, bottom, first, behind = box
        if row + top < 0 or row + bottom > len(self._pixels):
            return
        if column + first < 0 or column + behind > self._wide:
            return
        pixels = self._pixels
        for y, first, behind, run in runs:
            pixels[row + y][column + first : column + behind] = run

    def rows(self) -> tuple[list[bytes], list[bytes]]:
        """The upper and the lower row of pixels of each row of cells."""
        left, right = self._across, self._wide - self._across
        seen = self._pixels[self._along : -self._along]
        pixels = [bytes(row[left:right]) for row in seen]
        return pixels[::2], pixels[1::2]


_OPEN = Layers(Layer(True, 2 * OPEN_HOLE, 2 * OPEN_HOLE, _HOLE))
"""An open hole."""


@lru_cache(maxsize=64)
def _ring(scale: float) -> Layers:
    """A ring round a hole, dark inside."""
    inner = 2 * (RING - max(0.3, 0.5 / scale))
    return Layers(Layer(True, 2 * RING, 2 * RING, _TARGET), Layer(True, inner, inner, _HOLE))


@lru_cache(maxsize=512)
def _layers_of(shape: Shape, scale: float, rim: int, body: int) -> Layers:
    """What a bead is drawn of."""
    long, wide = size_in_plane(shape)
    if isinstance(shape, Finding):
        # An outline in metal, open inside: it has no colour of the design.
        thin = 2 * max(0.3, 0.5 / scale)
        wide = max(wide, long / 2)
        outer = Layer(True, long, wide, _NEW if rim == _NEW else _METAL)
        if min(long, wide) <= thin:
            return Layers(outer)
        return Layers(outer, Layer(True, long - thin, wide - thin, _GROUND))
    thin = min(0.75 / scale, wide / 2.5)
    seed = isinstance(shape, Seed)
    more = 0.2 if seed else 0.0
    inner = Layer(seed, long - thin, wide - thin + more, body)
    return Layers(Layer(seed, long, wide + more, rim), inner)


class _Inks(NamedTuple):
    """What the bytes of a canvas stand for: each of the colours is followed by its rim."""

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
    if _WAY in four:
        shape = sum(1 << i for i, colour in enumerate(four) if colour == _WAY)
        return Cell(_QUADRANTS[shape], "", "", bold=True)
    most = max(set(four), key=lambda c: (four.count(c), c))
    if most < _FIRST_BEAD:
        return Cell("·" if most in (_NEW, _METAL) else " ", "", "")
    letter, rim = divmod(most - _FIRST_BEAD, 2)
    return Cell(" " if rim else _SHADES[letter % len(_SHADES)], "", "")


def _within(start: float, stride: float, size: int, steps: int) -> range:
    """The strides, 0 to `steps`, at which `start + i * stride` may lie from 0 to `size`."""
    if not stride:
        return range(steps + 1)
    near, far = sorted((-start / stride, (size - start) / stride))
    return range(max(0, math.floor(near)), min(steps, math.ceil(far)) + 1)


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
