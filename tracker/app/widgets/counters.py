"""What is left: rows, length, beads, thread, time."""

from __future__ import annotations

from textual.geometry import Size
from textual.strip import Strip

from tracker.app.lines import Run, line
from tracker.app.place import Place
from tracker.app.widgets.place_view import PlaceView
from tracker.progress.left import duration

LABEL = 8


class Counters(PlaceView):
    """The counters, most asked for first."""

    def draw(self, place: Place, size: Size) -> list[Strip]:
        """Show a place."""
        width, height = size
        lines = _lines(place, width)
        if len(lines) > height > 0:
            more = [(f" and {len(lines) - height + 1} more", place.dress.quiet)]
            lines = [*lines[: height - 1], more]
        return [line(runs, width, place.dress.text()) for runs in lines]


def _lines(place: Place, width: int) -> list[list[Run]]:
    look, left = place.dress, place.left
    strong, quiet = look.text(bold=True), look.quiet

    def row(label: str, value: str, rest: str = "") -> list[Run]:
        return [(f" {label:<{LABEL}}", look.label), (value, strong), (rest, quiet)]

    on_hand = {kind.key: kind for kind in place.watched}
    low, high = left.rows_left_range
    rest = f" to go, {low}-{high}" if low != high and not left.finished else " to go"
    lines = [row("ROWS", str(left.rows_left), rest), _bar(place, width)]
    for short in (counted for counted in place.watched if counted.short):
        name = place.pattern.colour(short.key[1]).name
        lines.append([(" SHORT ", look.wrong), (f"  {short.short} {name}", strong)])
        lines.append([(f" {'':<{LABEL}}lasts to row {short.reaches_row}", quiet)])
    lines.append(
        row("LENGTH", f"≈{left.length:.0f}", f" ±{left.length_error:.0f} of {left.target:.0f} mm")
    )
    lines.append([(f" {'':<{LABEL}}", quiet), (f"{left.length_left:.0f} mm to go", quiet)])
    lines.append(_thread(place))
    join = left.join_in_rows
    if join is None:
        lines.append(row("", "", "lasts to the end"))
    else:
        lines.append(row("", str(join), " row to a join" if join == 1 else " rows to a join"))
    time = "after 3 rows" if left.minutes is None else f"{duration(left.minutes)}"
    lines.append(row("TIME", *(("", time) if left.minutes is None else (time, " to go"))))
    lines.append(row("BEADS", "", "still to pick up"))
    for key, kind in place.pattern.kinds():
        colour = place.pattern.colour(kind.colour)
        chip = look.chip(colour, kind.shape.kind)
        lines.append(
            [
                (" ", quiet),
                chip,
                (" " * (6 - len(chip[0])), quiet),
                (f"{left.beads[key]:>6} ", strong),
                (colour.name, quiet),
            ]
        )
        if key in on_hand:
            lines.append([(f" {'':<6}{on_hand[key].on_hand:>6} on hand", quiet)])
    return lines


def _bar(place: Place, width: int) -> list[Run]:
    look, left = place.dress, place.left
    room = max(4, width - 9)
    share = 1 - left.rows_left / left.rows
    full = int(room * share)
    bar = "█" * full + "░" * (room - full)
    return [(" ", look.quiet), (bar, look.label), (f" {share:4.0%}", look.quiet)]


def _thread(place: Place) -> list[Run]:
    look, left = place.dress, place.left
    metres = f"{max(0.0, left.thread) / 1000:.2f} m"
    return [
        (f" {'THREAD':<{LABEL}}", look.label),
        (metres, look.text(bold=True)),
        (" on needle", look.quiet),
    ]
