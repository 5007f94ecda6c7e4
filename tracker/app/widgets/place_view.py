"""A part of the stitching screen."""

from __future__ import annotations

from textual.geometry import Region, Size
from textual.strip import Strip

from tracker.app.lines import Lines, line
from tracker.app.place import Place


class PlaceView(Lines):
    """Shows one side of a place."""

    _place: Place | None = None
    _drawn: tuple[Place, Size] | None = None
    """What its lines show, and the size that they are drawn in."""

    def show_place(self, place: Place) -> None:
        """Show a place, once `draw_due` is called or Textual wants the lines."""
        self._place = place

    def draw_due(self) -> list[Region]:
        """Draw the place, unless it is what is shown; what of the screen is to be repainted."""
        drawn, size = self._drawn or (None, None)
        # An equal place is drawn once more: what it is drawn with may be another.
        if self._place is None or not self.size or (drawn is self._place and size == self.size):
            return []
        self._drawn = (self._place, self.size)
        offset = self.region.offset
        return [part.translate(offset) for part in self.take(self._filled(self._place))]

    def draw_anew(self) -> None:
        """Draw the place, even if it is the one that is shown."""
        if self._place is not None and self.size:
            self._drawn = (self._place, self.size)
            self.show(self._filled(self._place))

    def render_lines(self, crop: Region) -> list[Strip]:
        """The lines as they are painted; in a new size they are drawn first.

        So the very first frame has everything on it, and no size is drawn twice.
        """
        # In the size that it has, only those lines are painted that `show` has found changed.
        if self._place is not None and (self._drawn is None or self._drawn[1] != self.size):
            self._drawn = (self._place, self.size)
            self._lines = self._filled(self._place)
        return super().render_lines(crop)

    def _filled(self, place: Place) -> list[Strip]:
        """The lines of a place, and ground where there are none, to cover all of the widget."""
        width, height = self.size
        ground = place.dress.text()
        lines = [drawn.adjust_cell_length(width, ground) for drawn in self.draw(place)]
        return lines + [line([], width, ground)] * (height - len(lines))

    def draw(self, place: Place) -> list[Strip]:
        """The lines of a place in the size that the widget has now."""
        raise NotImplementedError
