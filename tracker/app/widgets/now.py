"""What to do now: pick-ups as bead shapes, holes in their order, what to pass by."""

from __future__ import annotations

import textwrap
from itertools import groupby

from rich.style import Style

from tracker.app.lines import Run, line
from tracker.app.place import Place
from tracker.app.widgets.place_view import PlaceView
from tracker.path.model import Row
from tracker.path.words import Phrase

VERB_WIDTH = 13
LEAST_LINES = 5


class Now(PlaceView):
    """The move to make, large enough to be read at arm's length."""

    def show_place(self, place: Place) -> None:
        """Show a place."""
        width = self.size.width
        ground = place.dress.text()
        self.show([line(runs, width, ground) for runs in lines_of(place, width)])


def lines_of(place: Place, width: int) -> list[list[Run]]:
    """The lines of the move, one move each."""
    if place.finished:
        return _finished(place, width)
    row = place.pattern.row(place.position.row)
    if place.by == "row":
        return _whole_row(place, row, width)
    lines = []
    order = 0
    for phrase in place.moves():
        if phrase.move == "go through":
            order += 1
        lines.append(_move(place, phrase, order))
    return lines + folded(place, "", place.hint(), place.dress.quiet, width)


def height_of(place: Place, width: int) -> int:
    """Lines that the move takes."""
    return max(LEAST_LINES, len(lines_of(place, width)) + 1)


def _move(place: Place, phrase: Phrase, order: int) -> list[Run]:
    look = place.dress
    verb = "GO BACK" if phrase.back else phrase.move.upper()
    runs: list[Run] = [(f" {verb:<{VERB_WIDTH}}", look.label)]
    if phrase.move == "pick up":
        return runs + _chips(place, phrase.beads)
    mark = (" ✕ ", look.wrong) if phrase.move == "pass by" else (f" {order} ", look.target)
    bead = place.pattern.bead(phrase.beads[0])
    chip = look.chip(place.pattern.colour(bead.colour), bead.kind)
    text = look.text(bold=phrase.move == "go through")
    return [*runs, mark, (" ", text), chip, (f"  {phrase.text}", text)]


def _chips(place: Place, beads: tuple[int, ...]) -> list[Run]:
    """Beads to pick up: those of one kind together, with their number and name."""
    look = place.dress
    runs: list[Run] = []
    found = (place.pattern.bead(bead) for bead in beads)
    for (kind, letter), same in groupby(found, key=lambda bead: (bead.kind, bead.colour)):
        number = len(list(same))
        colour = place.pattern.colour(letter)
        if runs:
            runs.append(("  then  ", look.quiet))
        runs.append((f"{number} ", look.text(bold=True)))
        runs += [look.chip(colour, kind), (" ", look.text())] * number
        plural = "" if number == 1 else "s"
        runs.append((f"{colour.name} {kind}{plural}", look.text(bold=True)))
    return runs


def folded(place: Place, label: str, text: str, style: Style, width: int) -> list[list[Run]]:
    """A text behind a label, over as many lines as it needs: what is said is never cut."""
    parts = textwrap.wrap(text, max(20, width - VERB_WIDTH - 2))
    labels = [label, *[""] * len(parts)]
    return [
        [(f" {label:<{VERB_WIDTH}}", place.dress.label), (part, style)]
        for label, part in zip(labels, parts, strict=False)
    ]


def _whole_row(place: Place, row: Row, width: int) -> list[list[Run]]:
    """A row at once: its tiles in the order of picking up, and the move that repeats."""
    look = place.dress
    pattern = place.pattern
    tiles = [bead for bead in row.beads if bead.kind == "tile"]
    seeds = len(row.beads) - len(tiles)
    said = f"{len(tiles)} tiles in this order, {seeds} seeds"
    lines: list[list[Run]] = [
        [(f" {'PICK UP':<{VERB_WIDTH}}", look.label), (said, look.text(bold=True))]
    ]
    a_line = max(1, (width - VERB_WIDTH - 3) // 6)
    for start in range(0, len(tiles), a_line):
        runs: list[Run] = [(" " * (VERB_WIDTH + 1), look.text())]
        for bead in tiles[start : start + a_line]:
            runs += [look.chip(pattern.colour(bead.colour), "tile"), (" ", look.text())]
        lines.append(runs)
    for step in (row.steps[0], row.steps[-1]):
        label = "TURN" if step.turn else "EACH TIME"
        lines += folded(place, label, place.sentence(step), look.text(), width)
    return lines


def _finished(place: Place, width: int) -> list[list[Run]]:
    look = place.dress
    text, rows = look.text(), place.left.rows
    said = [("DONE", f"All {rows} rows are woven.", text)]
    said += [("", sentence, look.quiet) for sentence in place.standing()]
    said.append(("", "Measure the band before you finish its ends.", look.quiet))
    return [line for part in said for line in folded(place, *part, width)]
