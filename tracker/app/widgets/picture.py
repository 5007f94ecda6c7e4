"""The picture of the work round the needle, in one widget of cached lines."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from textual.geometry import Size
from textual.message import Message
from textual.strip import Strip

from tracker.app.lines import cell_line
from tracker.app.pixels import Pixels, Sheet
from tracker.app.place import Place
from tracker.app.widgets.place_view import PlaceView
from tracker.path.plane import Point
from tracker.pattern.model import Pattern
from tracker.pictures.cells import Painter
from tracker.pictures.raster import reach_of
from tracker.pictures.scene import Scene, Scenes
from tracker.pictures.view import AT, View, view_for
from tracker.records import record

if TYPE_CHECKING:
    from tracker.pictures.pixels import Canvas

EDGE = 1.2
"""Room at the edges of the band for the seeds of the caps, mm."""
FURTHER = 5
"""Rows behind those in view whose beads may reach in, or that the needle goes into."""


class Picture(PlaceView):
    """The last rows in true geometry, and the move to make among them."""

    @record(frozen=False, slots=False)
    class NotDrawn(Message):
        """Pixels were wished for, and from now on there are none."""

        why: str

    def __init__(self, pixels: Pixels, *, id: str) -> None:  # noqa: A002  Textual's own word
        super().__init__(id=id)
        self._pixels = pixels
        """Who paints it finer than cells, where that can be."""
        self._sketch = Sketch()

    def draw(self, place: Place, size: Size) -> list[Strip]:
        """A place: in pixels if they are there, else in cells until they are."""
        canvas = self._pixels.canvas(size)
        strips: list[Strip] | None = None
        if canvas is not None:
            sheet = Sheet(place, canvas, composed)
            strips = self._pixels.put(sheet, self.region.x)
            self.run_worker(self._pixels.make(sheet, self._again), group="pixels")
        return strips or self._sketch.lines(place, size.width, size.height)

    def _again(self) -> None:
        """Something was made, or nothing more will be: show it if the place is still the same."""
        if self._pixels.words:
            self.post_message(self.NotDrawn(self._pixels.words))
        self.draw_anew()


class Sketch:
    """Pictures in cells. What stays as it is from one to the next is kept."""

    def __init__(self) -> None:
        self._scenes: Scenes | None = None
        self._painter = Painter()

    def lines(self, place: Place, width: int, height: int) -> list[Strip]:
        """The picture of a place in `width` x `height` cells."""
        pattern = place.pattern
        if self._scenes is None or self._scenes.pattern is not pattern:
            self._scenes, self._painter = Scenes(pattern), Painter()
        row = place.position.row

        def view(middle: Point) -> View:
            return view_of(pattern, middle, width, height, row)

        scene = _scene(self._scenes, place, view)
        colours = {colour.letter: colour.hex for colour in pattern.colours}
        look = place.dress.cells
        return self._painter.lines(scene, view(scene.focus), colours, look, cell_line)


def composed(place: Place, canvas: Canvas) -> tuple[Scene, View]:
    """The same for pixels, which can be finer."""
    from tracker.pictures import pixels  # noqa: PLC0415  many terminals show none

    pattern = place.pattern
    low, high = _edges(pattern)

    def view(middle: Point) -> View:
        focus = _focus(pattern, middle, place.position.row)
        return pixels.view_on(canvas, low=low, high=high, focus=focus)

    scene = _scene(Scenes(pattern), place, view)
    return scene, view(scene.focus)


def _scene(scenes: Scenes, place: Place, view: Callable[[Point], View]) -> Scene:
    """What can be seen in a view, told by the middle of the move, and some that reaches in.

    However long and wide the band is, what is far from the move is left out.
    """
    pattern, position = place.pattern, place.position
    reach = max(map(reach_of, pattern.shapes.values()))

    def seen(middle: Point) -> tuple[float, float]:
        shown = view(middle)
        return (shown.top - shown.height / shown.scale - reach, shown.top + reach)

    # A view is as wide and as fine wherever its middle is.
    any_view = view((0.0, 0.0))
    behind = AT * any_view.width / (2 * any_view.scale)
    return scenes.at(
        position.row,
        position.step,
        back=int(behind / pattern.gauge.pitch) + FURTHER,
        whole_row=place.by == "row",
        seen=seen,
    )


def view_of(pattern: Pattern, middle: Point, width: int, height: int, row: int) -> View:
    """What the cells show of a row, by the middle of the move.

    It stays still while a row is worked, and moves on with the next.
    """
    low, high = _edges(pattern)
    return view_for(width, height, low=low, high=high, focus=_focus(pattern, middle, row))


def _focus(pattern: Pattern, middle: Point, row: int) -> Point:
    # The ends are worked along what is there: the view goes with the needle.
    x = pattern.row(row).origin if row < pattern.woven_rows else middle[0]
    return (x, middle[1])


def _edges(pattern: Pattern) -> tuple[float, float]:
    """How far the band reaches across, with its caps, mm."""
    half = pattern.gauge.width / 2 + EDGE
    return (pattern.middle - half, pattern.middle + half)
