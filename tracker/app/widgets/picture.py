"""The picture of the work round the needle, in one widget of cached lines."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.message import Message
from textual.strip import Strip

from tracker.app.lines import cell_line
from tracker.app.pixels import Pixels, Sheet
from tracker.app.place import Place
from tracker.app.widgets.place_view import PlaceView
from tracker.path.plane import Point
from tracker.pattern.model import Pattern
from tracker.pictures.cells import LEAST_SCALE, View, draw, view_for
from tracker.pictures.scene import Scene, scene_at
from tracker.records import record

if TYPE_CHECKING:
    from tracker.pictures.pixels import Canvas

EDGE = 1.2
"""Room at the edges of the band for the seeds of the caps, mm."""


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

    def draw(self, place: Place) -> list[Strip]:
        """A place: in pixels if they are there, else in cells until they are."""
        canvas = self._pixels.canvas(self.size)
        strips: list[Strip] | None = None
        if canvas is not None:
            sheet = Sheet(place, canvas, composed)
            strips = self._pixels.put(sheet, self.region.x)
            self.run_worker(self._pixels.make(sheet, self._again), group="pixels")
        return strips or picture_of(place, self.size.width, self.size.height)

    def _again(self) -> None:
        """Something was made, or nothing more will be: show it if the place is still the same."""
        if self._pixels.words:
            self.post_message(self.NotDrawn(self._pixels.words))
        self.draw_anew()


def picture_of(place: Place, width: int, height: int) -> list[Strip]:
    """The picture in `width` x `height` cells."""
    pattern = place.pattern
    scene = _scene(place, width / (2 * LEAST_SCALE))
    view = view_of(pattern, scene, width, height, place.position.row)
    colours = {colour.letter: colour.hex for colour in pattern.colours}
    return [cell_line(cells) for cells in draw(scene, view, colours, place.dress.cells)]


def composed(place: Place, canvas: Canvas) -> tuple[Scene, View]:
    """The same for pixels, which can be finer."""
    from tracker.pictures import pixels  # noqa: PLC0415  many terminals show none

    pattern = place.pattern
    scene = _scene(place, canvas.width / canvas.cell_height / pixels.LEAST_SCALE)
    focus = _focus(pattern, scene, place.position.row)
    low, high = _edges(pattern)
    return scene, pixels.view_on(canvas, low=low, high=high, focus=focus)


def _scene(place: Place, longest: float) -> Scene:
    """As many rows as can be seen at the coarsest scale, `longest` mm, and a few that reach in."""
    back = int(longest / place.pattern.gauge.pitch) + 3
    position = place.position
    whole = place.by == "row"
    return scene_at(place.pattern, position.row, position.step, back=back, whole_row=whole)


def view_of(pattern: Pattern, scene: Scene, width: int, height: int, row: int) -> View:
    """What the cells show: it stays still while a row is worked, and moves on with the next."""
    low, high = _edges(pattern)
    focus = _focus(pattern, scene, row)
    return view_for(width, height, low=low, high=high, focus=focus)


def _focus(pattern: Pattern, scene: Scene, row: int) -> Point:
    # The ends are worked along what is there: the view goes with the needle.
    middle = pattern.row(row).origin if row < pattern.woven_rows else scene.focus[0]
    return (middle, scene.focus[1])


def _edges(pattern: Pattern) -> tuple[float, float]:
    """How far the band reaches across, with its caps, mm."""
    ys = [
        bead.place.y
        for row in range(min(2, pattern.row_count))
        for bead in pattern.row(row).beads
        if bead.kind == pattern.body
    ]
    middle = (min(ys) + max(ys)) / 2
    half = pattern.gauge.width / 2 + EDGE
    return (middle - half, middle + half)
