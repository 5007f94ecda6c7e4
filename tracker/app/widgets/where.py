"""The line at the top: which piece, section, row, heading, step."""

from __future__ import annotations

from tracker.app.lines import line
from tracker.app.place import Place
from tracker.app.widgets.place_view import PlaceView

HEADING = {"up": "▲ up", "down": "▼ down"}


class Where(PlaceView):
    """Where the beader is."""

    def show_place(self, place: Place) -> None:
        """Show a place."""
        look, left = place.dress, place.left
        width = self.size.width
        if place.finished:
            parts = [f"all {left.rows} rows done"]
        else:
            row = place.pattern.row(place.position.row)
            parts = [
                left.section,
                f"ROW {left.row} of {left.rows} {HEADING[row.heading]}",
                f"STEP {left.step} of {left.steps}",
            ]
        end = f"by {place.by} "
        if place.read_only:
            end = "READING ONLY "
        said = "   ".join(parts)
        # The place matters more than the name: a long name is cut, not the row.
        room = width - len(said) - len(end) - 6
        name = place.name if len(place.name) <= room else place.name[: max(0, room - 1)] + "…"
        gap = max(1, width - len(name) - len(said) - len(end) - 4)
        text = f" {name}   {said}{' ' * gap}{end}"
        self.show([line([(text, look.bar)], width, look.bar)])
