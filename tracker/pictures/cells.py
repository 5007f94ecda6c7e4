"""The work drawn in the cells of a terminal.

A cell is taken as twice as high as it is wide and holds 2 x 2 pixels, of which two colours can
be shown (quadrant block characters). Beads lie in their true geometry; letters and marks stand
on top, so that the picture can be read where colours cannot: every tile bears the letter of
its colour, a finding a diamond; holes to go through are ringed and numbered in order, a bead to
pass by is crossed.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

from tracker.beads.model import Finding, Seed, Tile
from tracker.colours.srgb import BLACK, WHITE, ink_on, luminance
from tracker.path.model import Bead, Hole
from tracker.path.plane import Point, heading_of, unrolled
from tracker.pictures.scene import Drawn, Scene
from tracker.records import record

LEAST_SCALE, MOST_SCALE = 1.3, 2.6
"""Rows of cells to a millimetre: below, holes run into each other; above, little is gained."""
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
_CIRCLE = [(math.cos(math.radians(a)), math.sin(math.radians(a))) for a in range(0, 360, 20)]
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


def view_for(
    width: int,
    height: int,
    *,
    low: float,
    high: float,
    focus: Point,
    at: float = 0.62,
    least: float = LEAST_SCALE,
) -> View:
    """A view of `width` x `height` cells of a band that reaches from y = `low` to `high` (mm).

    The whole width of the band is shown if it can be; else the part around the focus is. The
    focus stands at the share `at` of the width, so that the finished work is seen behind it.
    """
    scale = min(MOST_SCALE, max(least, height / (high - low)))
    tall, wide = height / scale, width / (2 * scale)
    if tall >= high - low:
        top = (high + low + tall) / 2
    else:
        top = min(high, max(low + tall, focus[1] + tall / 2))
    return View(width, height, scale, focus[0] - at * wide, top)


def draw(scene: Scene, view: View, colours: Mapping[str, str], look: Look) -> list[list[Cell]]:
    """The scene as rows of cells. `colours` gives each letter's `#rrggbb`."""
    canvas = _Canvas(view, colours, look)
    beads = [drawn for drawn in scene.beads if _in_view(drawn, view)]
    for drawn in sorted(beads, key=lambda d: (d.new, d.bead.kind == "seed")):
        canvas.bead(drawn)
    for drawn in beads:
        if drawn.bead.id in scene.pass_by:
            canvas.cross(drawn)
    for piece in unrolled(scene.way, scene.around):
        canvas.line(piece, _WAY)
    for target in scene.targets:
        canvas.ring(target.centre)
    cells = canvas.cells()
    marks = _Marks(view, cells, look, scene.body)
    for drawn in beads:
        marks.bead(drawn, colours[drawn.bead.colour], crossed=drawn.bead.id in scene.pass_by)
    if scene.way:
        marks.put(scene.way[0], "●", look.way)
    for target in scene.targets:
        marks.ring(target.centre, str(target.order))
    for middle in scene.threads:
        marks.ring(middle, UNDER)
    return cells


def _in_view(drawn: Drawn, view: View) -> bool:
    """Whether any of a bead, or of the marks on it, may be seen; told in haste."""
    reach = sum(size_in_plane(drawn)) + 2 * RING
    x, y = drawn.bead.place.x - view.left, view.top - drawn.bead.place.y
    wide, high = view.width / (2 * view.scale), view.height / view.scale
    return -reach < x < wide + reach and -reach < y < high + reach


# --- pixels ------------------------------------------------------------------------------


@dataclass
class _Canvas:
    view: View
    colours: Mapping[str, str]
    look: Look
    pixels: list[bytearray] = field(init=False)
    palette: list[str] = field(init=False)
    letters: list[str] = field(init=False)

    def __post_init__(self) -> None:
        self.pixels = [bytearray(self.view.width * 2) for _ in range(self.view.height * 2)]
        look = self.look
        self.palette = [look.ground, look.way, look.new, look.hole, look.target, look.wrong]
        self.palette.append(look.metal)
        self.letters = list(self.colours)
        for colour in self.colours.values():
            self.palette += [colour, rim_of(colour)]

    def bead(self, drawn: Drawn) -> None:
        body = _FIRST_BEAD + 2 * self.letters.index(drawn.bead.colour)
        rim = _NEW if drawn.new else body + 1
        if isinstance(drawn.shape, Finding):
            self._finding(drawn, drawn.shape)
            return
        long, wide = size_in_plane(drawn)
        thin = min(0.75 / self.view.scale, wide / 2.5)
        if isinstance(drawn.shape, Seed):
            x, y, tilt = drawn.bead.place
            self._fill(ellipse((x, y), long / 2, wide / 2 + 0.1, tilt), rim)
            self._fill(ellipse((x, y), (long - thin) / 2, (wide - thin) / 2 + 0.1, tilt), body)
            return
        self._fill(corners(drawn.bead, long, wide), rim)
        self._fill(corners(drawn.bead, long - thin, wide - thin), body)
        if drawn.bead.kind == "tile" and not drawn.new and "b" not in drawn.filled:
            middle = self.view.middle(hole_centre(drawn, "b"))
            self._fill(ellipse(middle, OPEN_HOLE, OPEN_HOLE, 0.0), _HOLE)

    def _finding(self, drawn: Drawn, shape: Finding) -> None:
        """An outline in metal, open inside: it has no colour of the design."""
        x, y, tilt = drawn.bead.place
        wide, long = shape.diameter / 2, max(shape.length, shape.diameter / 2) / 2
        thin = max(0.3, 0.5 / self.view.scale)
        self._fill(ellipse((x, y), wide, long, tilt), _NEW if drawn.new else _METAL)
        if wide > thin and long > thin:
            self._fill(ellipse((x, y), wide - thin, long - thin, tilt), _GROUND)

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
        middle = self.view.middle(centre)
        outer = RING
        inner = outer - max(0.3, 0.5 / self.view.scale)
        self._fill(ellipse(middle, outer, outer, 0.0), _TARGET)
        self._fill(ellipse(middle, inner, inner, 0.0), _HOLE)

    def line(self, points: tuple[Point, ...], colour: int) -> None:
        for start, end in pairwise(points):
            (x1, y1), (x2, y2) = self.view.pixel(start), self.view.pixel(end)
            steps = max(1, math.ceil(max(abs(x2 - x1), abs(y2 - y1))))
            across, down = (x2 - x1) / steps, (y2 - y1) / steps
            # Of a line that comes from far away only the part in view is walked along.
            in_x = _within(x1, across, self.view.width * 2, steps)
            in_y = _within(y1, down, len(self.pixels), steps)
            for i in range(max(in_x.start, in_y.start), min(in_x.stop, in_y.stop)):
                x, y = math.floor(x1 + across * i), math.floor(y1 + down * i)
                if 0 <= y < len(self.pixels) and 0 <= x < self.view.width * 2:
                    self.pixels[y][x] = colour

    def _fill(self, outline: tuple[Point, ...], colour: int) -> None:
        """Fill a convex polygon."""
        for row, first, end in _spans(outline, self.view):
            self.pixels[row][first:end] = bytes([colour]) * (end - first)

    def cells(self) -> list[list[Cell]]:
        known = _known_cells(tuple(self.palette), self.look.mono)
        rows = []
        for upper, lower in zip(self.pixels[::2], self.pixels[1::2], strict=True):
            row = []
            for four in zip(upper[::2], upper[1::2], lower[::2], lower[1::2], strict=True):
                cell = known.get(four)
                if cell is None:
                    cell = known[four] = self._cell(four)
                row.append(cell)
            rows.append(row)
        return rows

    def _cell(self, four: tuple[int, int, int, int]) -> Cell:
        if self.look.mono:
            return self._plain_cell(four)
        # The needle's way is never lost; of the rest the two commonest colours are shown.
        by_weight = sorted(set(four), key=lambda c: (c not in _OVER, -four.count(c), c))
        front = by_weight[0]
        back = by_weight[1] if len(by_weight) > 1 else front
        shape = sum(1 << i for i, colour in enumerate(four) if colour == front)
        if shape == 15:
            return Cell(" ", "", self.palette[front])
        return Cell(_QUADRANTS[shape], self.palette[front], self.palette[back])

    def _plain_cell(self, four: tuple[int, int, int, int]) -> Cell:
        if _WAY in four:
            shape = sum(1 << i for i, colour in enumerate(four) if colour == _WAY)
            return Cell(_QUADRANTS[shape], "", "", bold=True)
        most = max(set(four), key=lambda c: (four.count(c), c))
        if most < _FIRST_BEAD:
            return Cell("·" if most in (_NEW, _METAL) else " ", "", "")
        letter, rim = divmod(most - _FIRST_BEAD, 2)
        return Cell(" " if rim else _SHADES[letter % len(_SHADES)], "", "")


# The view stays still while a row is worked, and most beads are in it from key to key.
@lru_cache(maxsize=1024)
def _spans(outline: tuple[Point, ...], view: View) -> tuple[tuple[int, int, int], ...]:
    """The pixels of a convex polygon that are in view: row, first column, column behind the last.

    Those belong to it whose middles lie in it.
    """
    right_edge, bottom = 2 * view.width, 2 * view.height
    left, top, scale = view.left, view.top, view.scale
    xs = [(x - left) * 4 * scale for x, _ in outline]
    ys = [(top - y) * 2 * scale for _, y in outline]
    # The pixel rows whose middles lie below each corner.
    rows = [math.ceil(y - 0.5) for y in ys]
    # The leftmost and the rightmost place at which the outline crosses the middle of each row.
    least: dict[int, float] = {}
    most: dict[int, float] = {}
    x1, y1, row1 = xs[-1], ys[-1], rows[-1]
    for x2, y2, row2 in zip(xs, ys, rows, strict=True):
        if row1 != row2:
            for row in range(row1, row2) if row1 < row2 else range(row2, row1):
                x = x1 + (x2 - x1) * (row + 0.5 - y1) / (y2 - y1)
                if row not in least:
                    least[row] = most[row] = x
                elif x < least[row]:
                    least[row] = x
                elif x > most[row]:
                    most[row] = x
        x1, y1, row1 = x2, y2, row2
    spans = []
    for row, x in least.items():
        first, end = math.ceil(x - 0.5), math.ceil(most[row] - 0.5)
        if 0 <= row < bottom and first < right_edge and end > 0 and first < end:
            spans.append((row, max(0, first), min(right_edge, end)))
    return tuple(spans)


def _within(start: float, stride: float, size: int, steps: int) -> range:
    """The strides, 0 to `steps`, at which `start + i * stride` may lie from 0 to `size`."""
    if not stride:
        return range(steps + 1)
    near, far = sorted((-start / stride, (size - start) / stride))
    return range(max(0, math.floor(near)), min(steps, math.ceil(far)) + 1)


@lru_cache(maxsize=8)
def _known_cells(palette: tuple[str, ...], mono: bool) -> dict[tuple[int, int, int, int], Cell]:  # noqa: ARG001  what the key is made of
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


def ellipse(centre: Point, across: float, along: float, tilt: float) -> tuple[Point, ...]:
    """An ellipse by its half axes, `along` in the direction of a pass at that tilt."""
    x, y = centre
    return tuple([(x + a + b, y - c + d) for a, b, c, d in _outline(across, along, tilt)])


@lru_cache(maxsize=1024)
def _outline(
    across: float, along: float, tilt: float
) -> tuple[tuple[float, float, float, float], ...]:
    """Points of an ellipse, by the two parts of each of their coordinates."""
    ahead_x, ahead_y = heading_of(tilt)
    return tuple(
        (
            across * cosine * ahead_y,
            along * sine * ahead_x,
            across * cosine * ahead_x,
            along * sine * ahead_y,
        )
        for cosine, sine in _CIRCLE
    )


def size_in_plane(drawn: Drawn) -> tuple[float, float]:
    """Size of a bead square to its hole and along it, mm."""
    if isinstance(drawn.shape, Tile):
        return (drawn.shape.length, drawn.shape.passage)
    return (drawn.shape.diameter, drawn.shape.length)


def corners(bead: Bead, long: float, wide: float) -> tuple[Point, ...]:
    """The corners of a bead's outline; `wide` lies along its hole, `long` square to it."""
    ahead_x, ahead_y = heading_of(bead.place.tilt)
    return tuple(
        (
            bead.place.x + i * long / 2 * ahead_y + j * wide / 2 * ahead_x,
            bead.place.y - i * long / 2 * ahead_x + j * wide / 2 * ahead_y,
        )
        for i, j in ((-1, -1), (1, -1), (1, 1), (-1, 1))
    )


def hole_centre(drawn: Drawn, hole: Hole) -> Point:
    """The middle of a bead's hole."""
    place = drawn.bead.place
    if isinstance(drawn.shape, Seed) or not drawn.shape.hole_spacing:
        return (place.x, place.y)
    ahead_x, ahead_y = heading_of(place.tilt)
    aside = drawn.shape.hole_spacing / 2 * (1 if hole == "b" else -1)
    return (place.x + aside * ahead_y, place.y - aside * ahead_x)


# --- letters and marks ------------------------------------------------------------------------


@dataclass
class _Marks:
    view: View
    cells: list[list[Cell]]
    look: Look
    body: str
    """The kind of bead that bears large letters."""

    def bead(self, drawn: Drawn, colour: str, *, crossed: bool) -> None:
        """A bead's letter, a small one on a seed; a cross, a tile's open hole, a finding's mark."""
        middle = (drawn.bead.place.x, drawn.bead.place.y)
        ink = ink_on(colour)
        if isinstance(drawn.shape, Finding):
            self.put(middle, _FINDING, self.look.metal)
            return
        if drawn.bead.kind != self.body:
            if self.view.scale >= LEAST_SCALE:
                self.put(middle, drawn.bead.colour.lower(), ink, colour)
            return
        if crossed:
            self._write(middle, _CROSS, self.look.wrong, bold=True)
        else:
            self.put(middle, drawn.bead.colour, ink, colour)
        if drawn.bead.kind == "tile" and not drawn.new and "b" not in drawn.filled:
            self.put(hole_centre(drawn, "b"), "○", self.look.new)

    def ring(self, centre: Point, order: str) -> None:
        """The ring round a hole to go through, with its number in the order of the needle."""
        self._write(centre, order, self.look.target, bold=True)

    def put(self, point: Point, text: str, front: str, back: str = "") -> None:
        """One character; it keeps the colour that lies below it unless one is given."""
        column, row = self.view.cell(point)
        if 0 <= row < self.view.height and 0 <= column < self.view.width:
            below = self.cells[row][column]
            if self.look.mono:
                self.cells[row][column] = Cell(text, "", "", bold=True)
            else:
                self.cells[row][column] = Cell(text, front, back or below.back, bold=True)

    def _write(self, centre: Point, text: str, colour: str, *, bold: bool) -> None:
        column, row = self.view.cell(centre)
        column -= len(text) // 2
        for i, letter in enumerate(text):
            if 0 <= row < self.view.height and 0 <= column + i < self.view.width:
                back = "" if self.look.mono else self.look.hole
                front = "" if self.look.mono else colour
                self.cells[row][column + i] = Cell(
                    letter, front, back, bold=bold, reverse=self.look.mono
                )
