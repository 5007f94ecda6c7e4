"""A part of the stitching screen."""

from __future__ import annotations

from tracker.app.lines import Lines
from tracker.app.place import Place


class PlaceView(Lines):
    """Shows one side of a place."""

    _place: Place | None = None

    def show_place(self, place: Place) -> None:
        """Show a place."""
        self._place = place
        if self.size:
            self.draw(place)

    def on_resize(self) -> None:
        """Show it in the new size."""
        if self._place is not None:
            self.draw(self._place)

    def draw(self, place: Place) -> None:
        """Draw a place in the size that the widget has now."""
        raise NotImplementedError
