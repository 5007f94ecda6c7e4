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
    _due = False

    def show_place(self, place: Place) -> None:
        """Show a place; of many presses at once, where the last of them led."""
        self._place, self._drawn_in = place, None
        if self.size and not self._due:
            self._due = True
            self.call_later(self.draw_anew)

    def draw_anew(self) -> None:
        """Draw the place once more, in the size that the widget has now."""
        self._due = False
        if self._place is not None and self.size:
            self._drawn_in = self.size
            self.show(self.draw(self._place))

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
