"""The line at the bottom: the keys."""

from __future__ import annotations

from tracker.app.actions import ACTIONS
from tracker.app.lines import Run, line
from tracker.app.place import Place
from tracker.app.widgets.place_view import PlaceView


class Foot(PlaceView):
    """The keys that the beader may want now."""

    def show_place(self, place: Place) -> None:
        """Show a place."""
        look = place.dress
        runs: list[Run] = []
        for action in ACTIONS:
            if action.label:
                runs += [(f" {action.shown} ", look.key), (f"{action.label}  ", look.foot)]
        self.show([line(runs, self.size.width, look.foot)])
