"""The line at the bottom: the keys."""

from __future__ import annotations

from functools import lru_cache

from rich.cells import cell_len
from textual.geometry import Size
from textual.strip import Strip

from tracker.app.actions import ACTIONS
from tracker.app.lines import Run, line
from tracker.app.look import Dress
from tracker.app.place import Place
from tracker.app.widgets.place_view import PlaceView


class Foot(PlaceView):
    """The keys that the beader may want now."""

    def draw(self, place: Place, size: Size) -> list[Strip]:
        """Draw the keys."""
        return [_keys(size.width, place.dress)]


@lru_cache(maxsize=4)
def _keys(width: int, look: Dress) -> Strip:
    """The keys; those in the middle of the table are left to the help if need be."""
    parts = [(f" {a.shown} ", f"{a.label}  ") for a in ACTIONS if a.label]
    while len(parts) > 1 and sum(cell_len(key + label) for key, label in parts) > width:
        del parts[len(parts) // 2]
    runs: list[Run] = []
    for key, label in parts:
        runs += [(key, look.key), (label, look.foot)]
    return line(runs, width, look.foot)
