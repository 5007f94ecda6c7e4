"""The picture of the work round the needle, in one widget of cached lines."""

from __future__ import annotations

from textual.strip import Strip

from tracker.app.lines import cell_line
from tracker.app.place import Place
from tracker.app.widgets.place_view import PlaceView
from tracker.path.plane import Point
from tracker.pattern.model import Pattern
from tracker.pictures.cells import LEAST_SCALE, View, draw, view_for
from tracker.pictures.scene import Scene, scene_at

EDGE = 1.2
"""Room at the edges of the band for the seeds of the caps, mm."""


class Picture(PlaceView):
    """The last rows in true geometry, and the move to make among them."""

    def draw(self, place: Place) -> list[Strip]:
        """Show a place."""
        return picture_of(place, self.size.width, self.size.height)


def picture_of(place: Place, width: int, height: int) -> list[Strip]:
    """The picture in `width` x `height` cells."""
    pattern, position = place.pattern, place.position
    # As many rows as can be seen at the coarsest scale, and a few that reach in.
    back = int(width / (2 * LEAST_SCALE) / pattern.gauge.pitch) + 3
    whole_row = place.by == "row"
    scene = scene_at(pattern, position.row, position.step, back=back, whole_row=whole_row)
    view = view_of(pattern, scene, width, height, place.position.row)
    colours = {colour.letter: colour.hex for colour in pattern.colours}
    return [cell_line(cells) for cells in draw(scene, view, colours, place.dress.cells)]


def view_of(pattern: Pattern, scene: Scene, width: int, height: int, row: int) -> View:
    """What the cells show: it stays still while a row is worked, and moves on with the next."""
    # The ends are worked along what is there: the view goes with the needle.
    middle = pattern.row(row).origin if row < pattern.woven_rows else scene.focus[0]
    low, high = _edges(pattern)
    focus: Point = (middle, scene.focus[1])
    return view_for(width, height, low=low, high=high, focus=focus)


def _edges(pattern: Pattern) -> tuple[float, float]:
    """How far the band reaches across, with its caps, mm."""
    ys = [
        bead.place.y
        for row in range(min(2, pattern.row_count))
        for bead in pattern.row(row).beads
        if bead.kind == "tile"
    ]
    middle = (min(ys) + max(ys)) / 2
    half = pattern.gauge.width / 2 + EDGE
    return (middle - half, middle + half)
