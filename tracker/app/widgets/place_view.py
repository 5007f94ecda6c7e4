"""A part of the stitching screen."""

from __future__ import annotations

from textual.geometry import Region, Size
from textual.strip import Strip

from tracker.app.lines import Lines, changed, cropped, line
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
        region = self.region  # which has no border, and is none while it is hidden
        # An equal place is drawn once more: what it is drawn with may be another.
        if self._place is None or not region or self._is_drawn(self._place, region.size):
            return []
        before = self._lines
        self._draw(self._place, region.size)
        return changed(before, self._lines, region)

    def draw_anew(self) -> None:
        """Draw the place, even if it is the one that is shown."""
        self._drawn = None
        if parts := self.draw_due():
            self.screen.refresh(*parts)

    def render_lines(self, crop: Region) -> list[Strip]:
        """The lines as they are painted; in a new size they are drawn first.

        So the very first frame has everything on it, and no size is drawn twice.
        """
        size = self.size
        # In the size that it has, only those lines are painted that have been found changed.
        if self._place is not None and (self._drawn is None or self._drawn[1] != size):
            self._draw(self._place, size)
        return cropped(self._lines, crop, size.width)

    def _is_drawn(self, place: Place, size: Size) -> bool:
        return self._drawn is not None and self._drawn[0] is place and self._drawn[1] == size

    def _draw(self, place: Place, size: Size) -> None:
        """Draw a place, and ground where it has no lines, to cover all of the widget."""
        self._drawn = (place, size)
        ground = place.dress.text()
        lines = [drawn.adjust_cell_length(size.width, ground) for drawn in self.draw(place, size)]
        self._lines = lines + [line([], size.width, ground)] * (size.height - len(lines))

    def draw(self, place: Place, size: Size) -> list[Strip]:
        """The lines of a place in the size that the widget has now."""
        raise NotImplementedError
