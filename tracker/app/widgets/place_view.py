"""A part of the stitching screen."""

from __future__ import annotations

from tracker.app.lines import Lines
from tracker.app.place import Place


class PlaceView(Lines):
    """Shows one side of a place."""

    _place: Place | None = None
    _due = False

    def show_place(self, place: Place) -> None:
        """Show a place; of many presses at once, where the last of them led."""
        self._place = place
        if self.size and not self._due:
            self._due = True
            self.call_later(self.on_resize)

    def on_resize(self) -> None:
        """Show it in the new size."""
        self._due = False
        if self._place is not None:
            self.draw(self._place)

    def draw(self, place: Place) -> None:
        """Draw a place in the size that the widget has now."""
        raise NotImplementedError
