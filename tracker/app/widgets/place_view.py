"""A part of the stitching screen."""

from __future__ import annotations

from textual.geometry import Region, Size
from textual.strip import Strip

from tracker.app.lines import Lines
from tracker.app.place import Place


class PlaceView(Lines):
    """Shows one side of a place."""

    _place: Place | None = None
    _drawn_in: Size | None = None
    """The size that the place is drawn in; None while it is not."""

    def show_place(self, place: Place) -> None:
        """Show a place."""
        self._place, self._drawn_in = place, self.size or None
        if self._drawn_in:
            self.show(self.draw(place))

    def render_lines(self, crop: Region) -> list[Strip]:
        """The lines as they are painted; in a new size they are drawn first.

        So the very first frame has everything on it, and no size is drawn twice.
        """
        if self._place is not None and self._drawn_in != self.size:
            self._drawn_in = self.size
            self._lines = self.draw(self._place)
        return super().render_lines(crop)

    def draw(self, place: Place) -> list[Strip]:
        """The lines of a place in the size that the widget has now."""
        raise NotImplementedError
