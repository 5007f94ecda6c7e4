"""A part of the stitching screen."""

from __future__ import annotations

from tracker.app.lines import Lines
from tracker.app.place import Place


class PlaceView(Lines):
    """Shows one side of a place."""

    def show_place(self, place: Place) -> None:
        """Show a place, in the size that the widget has now."""
        raise NotImplementedError
