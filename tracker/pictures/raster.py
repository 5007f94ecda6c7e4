"""Beads, rings and the needle's way in pixels, of which a cell has 2 x 2.

What a pixel is filled with is told by a number: one of those below, then two for each colour of the
beads, of the bead and of its rim.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from functools import lru_cache
from itertools import pairwise

from tracker.beads.model import Finding, Seed, Shape
from tracker.path.plane import Point
from tracker.pictures.outlines import hole_centre, size_in_plane
from tracker.pictures.scene import Drawn
from tracker.pictures.stamps import PARTS, Layer, Layers, stamp
from tracker.pictures.view import View

RING, CROSS_ARM, OPEN_HOLE = 0.95, 0.9, 0.45
"""Radius of the ring round a target, half the cross's width, radius of an open hole, mm."""
GROUND, WAY, NEW, HOLE, TARGET, WRONG, METAL, FIRST_BEAD = range(8)


def reach_of(shape: Shape) -> float:
    """How far from a bead's middle it and the marks on it reach at most, mm."""
    return math.hypot(*size_in_plane(shape)) / 2 + RING


class Raster:
    """Pixels, more of them on each side than are in view: so no bead that is has to be cut."""

    def __init__(self, view: View, colours: Mapping[str, str], reach: float) -> None:
        self.view = view
        # Of what is in view no more than this lies outside.
        self._across = math.ceil(2 * reach * 4 * view.scale) + 1
        self._along = math.ceil(2 * reach * 2 * view.scale) + 1
        self._wide = 2 * (view.width + self._across)
        self._pixels = [bytearray(self._wide) for _ in range(2 * (view.height + self._along))]
        self._kept: list[bytes] = []
        self._bodies = {letter: FIRST_BEAD + 2 * i for i, letter in enumerate(colours)}
        self._layers: dict[tuple[str, int, int], Layers] = {}

    def keep(self) -> None:
        """Keep what is drawn, to go back to."""
        self._kept = list(map(bytes, self._pixels))

    def go_back(self) -> None:
        """Go back to what was kept."""
        self._pixels = list(map(bytearray, self._kept))

    def bead(self, drawn: Drawn) -> None:
        """Put a bead down, and its open hole with it."""
        bead = drawn.bead
        body = self._bodies[bead.colour]
        rim = NEW if drawn.new else body + 1
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
            self.line(((x - arm + shift, y - arm), (x + arm + shift, y + arm)), WRONG)
            self.line(((x - arm + shift, y + arm), (x + arm + shift, y - arm)), WRONG)

    def ring(self, centre: Point) -> None:
        """A ring round a hole, dark inside, where its number will stand."""
        # Its number stands in a cell, so the ring is drawn round the middle of that.
        self._put(_ring(self.view.scale), self.view.middle(centre))

    def line(self, points: tuple[Point, ...], colour: int) -> None:
        """Draw a line, as far as it is in view."""
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


_OPEN = Layers(Layer(True, 2 * OPEN_HOLE, 2 * OPEN_HOLE, HOLE))
"""An open hole."""


@lru_cache(maxsize=64)
def _ring(scale: float) -> Layers:
    """A ring round a hole, dark inside."""
    inner = 2 * (RING - max(0.3, 0.5 / scale))
    return Layers(Layer(True, 2 * RING, 2 * RING, TARGET), Layer(True, inner, inner, HOLE))


@lru_cache(maxsize=512)
def _layers_of(shape: Shape, scale: float, rim: int, body: int) -> Layers:
    """What a bead is drawn of."""
    long, wide = size_in_plane(shape)
    if isinstance(shape, Finding):
        # An outline in metal, open inside: it has no colour of the design.
        thin = 2 * max(0.3, 0.5 / scale)
        wide = max(wide, long / 2)
        outer = Layer(True, long, wide, NEW if rim == NEW else METAL)
        if min(long, wide) <= thin:
            return Layers(outer)
        return Layers(outer, Layer(True, long - thin, wide - thin, GROUND))
    thin = min(0.75 / scale, wide / 2.5)
    seed = isinstance(shape, Seed)
    more = 0.2 if seed else 0.0
    inner = Layer(seed, long - thin, wide - thin + more, body)
    return Layers(Layer(seed, long, wide + more, rim), inner)


def _within(start: float, stride: float, size: int, steps: int) -> range:
    """The strides, 0 to `steps`, at which `start + i * stride` may lie from 0 to `size`."""
    if not stride:
        return range(steps + 1)
    near, far = sorted((-start / stride, (size - start) / stride))
    return range(max(0, math.floor(near)), min(steps, math.ceil(far)) + 1)
