"""What to do now: pick-ups as bead shapes, holes in their order, what to pass by."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import groupby

from rich.style import Style
from textual.geometry import Size
from textual.strip import Strip

from tracker.app.lines import Run, fold, line, spoken
from tracker.app.place import Place
from tracker.app.widgets.place_view import PlaceView
from tracker.design.model import Colour
from tracker.path.band import Band
from tracker.path.model import Bead, Step
from tracker.path.wording import Wording
from tracker.path.words import Phrase, phrases, sentence
from tracker.pattern.model import Pattern
from tracker.records import record

VERB_WIDTH = 13
LEAST_LINES = 5
TILE_LINES = 2
"""A row's tiles stand close to each other if they would take more lines than this."""


class Now(PlaceView):
    """The move to make, large enough to be read at arm's length."""

    def __init__(self, *, id: str) -> None:  # noqa: A002  Textual's own word
        super().__init__(id=id)
        self._room = LEAST_LINES
        self._stays: tuple[object, ...] = ()
        """As long as this is the same it gets no lower: what is below stays where it is."""
        self._high = 0
        self._fitted: tuple[Place, int, list[list[Run]]] | None = None
        """What it was fitted to last, and the lines of that."""

    def fit(self, place: Place, wide: int, room: int) -> None:
        """Be as high as a place's move needs of `room` lines, `wide` cells wide."""
        lines = lines_of(place, wide, room)
        self._room, self._fitted = room, (place, wide, lines)
        height = _height_of(len(lines), room)
        stays = (wide, room, place.by, place.learning, place.finished, place.unpicking is None)
        if stays == self._stays:
            height = max(height, self._high)
        self._stays = stays
        if height != self._high:
            self._high = self.styles.height = height

    def draw(self, place: Place, size: Size) -> list[Strip]:
        """Draw a place."""
        width = size.width
        if self._fitted is None or self._fitted[0] is not place or self._fitted[1] != width:
            self._fitted = (place, width, lines_of(place, width, self._room))
        ground = place.dress.text()
        return [line(runs, width, ground) for runs in self._fitted[2]]


def lines_of(place: Place, width: int, room: int) -> list[list[Run]]:
    """The lines of the move: with as many words as `room` lines can hold, but all of the move."""
    if place.finished:
        return _finished(place, width)
    if place.unpicking is not None:
        return folded(place, "TAKE OUT", place.undoing(), place.dress.text(bold=True), width)
    lines: list[list[Run]] = []
    for said, hint in _in_fewer_words(place):
        lines = _whole_row(said, width) if place.by == "row" else _moves(said, hint, width)
        if len(lines) <= room:
            break
    return lines


def _in_fewer_words(place: Place) -> Iterator[tuple[Place, str]]:
    """A place and what a learner is told of it besides, each time with less."""
    yield place, place.hint()
    yield place, ""
    yield replace(place, words="short"), ""


def height_of(place: Place, width: int, room: int) -> int:
    """Lines that the move takes: an empty one below it if there is room."""
    return _height_of(len(lines_of(place, width, room)), room)


def _height_of(lines: int, room: int) -> int:
    return max(lines, min(room, max(LEAST_LINES, lines + 1)))


def _moves(place: Place, hint: str, width: int) -> list[list[Run]]:
    lines = []
    order = 0
    for phrase in place.moves():
        if phrase.move == "go through":
            order += 1
        lines += _move(place, phrase, order, width)
    step = place.pattern.row(place.position.row).steps[place.position.step]
    lines += folded(place, "CAUTION", place.caution(step), place.dress.quiet, width)
    return lines + folded(place, "", hint, place.dress.quiet, width)


def _move(place: Place, phrase: Phrase, order: int, width: int) -> list[list[Run]]:
    look = place.dress
    verb = "GO BACK" if phrase.back else phrase.move.upper()
    if phrase.move == "do":
        return folded(place, "NOW", phrase.text, look.text(bold=True), width)
    runs: list[Run] = [(f" {verb:<{VERB_WIDTH}}", look.label)]
    if phrase.move == "pick up":
        return fold([*runs, *_chips(place, phrase.beads)], width, VERB_WIDTH + 1)
    if phrase.move == "go under":
        return fold([*runs, *spoken(phrase.text, look.text())], width, VERB_WIDTH + 1)
    mark = (" ✕ ", look.wrong) if phrase.move == "pass by" else (f" {order} ", look.target)
    bead = place.pattern.bead(phrase.beads[0])
    text = look.text(bold=phrase.move == "go through")
    runs += [mark, (" ", text)]
    if bead.kind != "finding":
        runs += [look.chip(place.pattern.colour(bead.colour), bead.kind), ("  ", text)]
    return fold([*runs, *spoken(phrase.text, text)], width, VERB_WIDTH + 1)


def _chips(place: Place, beads: tuple[int, ...]) -> list[Run]:
    """Beads to pick up: those of one kind together, with their number and name."""
    look = place.dress
    bold = look.text(bold=True)
    runs: list[Run] = []
    found = (place.pattern.bead(bead) for bead in beads)
    for (kind, letter), run in groupby(found, key=lambda bead: (bead.kind, bead.colour)):
        same = list(run)
        number = len(same)
        colour = place.pattern.colour(letter)
        if runs:
            runs.append((" then  ", look.quiet))
        runs.append((f"{number} ", bold))
        if kind == "finding":
            runs += spoken(same[0].shape, bold)
            continue
        runs += [look.chip(colour, kind), (" ", look.text())] * number
        runs += spoken(f"{colour.name} {kind}{'' if number == 1 else 's'}", bold)
    return runs


def folded(place: Place, label: str, text: str, look: Style, width: int) -> list[list[Run]]:
    """A text behind a label, over as many lines as it needs; none if there is no text."""
    if not text:
        return []
    runs = [(f" {label:<{VERB_WIDTH}}", place.dress.label), *spoken(text, look)]
    return fold(runs, width - 1, VERB_WIDTH + 1)


# --- by rows -----------------------------------------------------------------------------


def _whole_row(place: Place, width: int) -> list[list[Run]]:
    """The rest of a row: its beads in the order of picking up, and the moves that repeat.

    Of a band of tiles the tiles are shown, and its seeds counted.
    """
    look = place.dress
    row = place.pattern.row(place.position.row)
    steps = row.steps[place.position.step :]
    beads = [place.pattern.bead(bead) for step in steps for bead in step.picked_up()]
    body = place.pattern.body
    shown = [bead for bead in beads if bead.kind == body]
    said = f"{_counted(len(shown), body)} in this order"
    if len(shown) < len(beads):
        said += f", {_counted(len(beads) - len(shown), 'seed')}"
    lines = folded(place, "PICK UP", said, look.text(bold=True), width) if shown else []
    lines += _in_order(place, shown, width)
    for label, what in _repeats(place, steps):
        lines += folded(place, label, what, look.text(), width)
    for caution in dict.fromkeys(place.caution(step) for step in steps):
        lines += folded(place, "CAUTION", caution, look.quiet, width)
    return lines


def _in_order(place: Place, beads: list[Bead], width: int) -> list[list[Run]]:
    look = place.dress
    tight = len(beads) * 6 > TILE_LINES * (width - VERB_WIDTH - 2)
    runs: list[Run] = [(" " * (VERB_WIDTH + 1), look.text())]
    for bead in beads:
        runs.append(look.chip(place.pattern.colour(bead.colour), bead.kind, tight=tight))
        if not tight:
            runs.append((" ", look.text()))
    return fold(runs, width - 1, VERB_WIDTH + 1) if beads else []


def _repeats(place: Place, steps: tuple[Step, ...]) -> Iterator[tuple[str, str]]:
    """Each kind of step with how often it comes; the tiles above say the colours."""
    row = place.pattern.row(place.position.row)
    plain = _Uncoloured(place.pattern)

    def said(step: Step) -> str:
        full = place.learning
        parts = phrases(plain, row, step, full=full)
        parts = tuple(replace(part, text=_without_gap(part.text)) for part in parts)
        return sentence(parts, turn="", full=full)

    for (turn, what), same in groupby(steps, key=lambda step: (step.turn, said(step))):
        times = len(list(same))
        label = f"{times} TIMES" if times > 1 else "ONCE"
        yield place.pattern.wording.turning.upper() if turn else label, what


def _without_gap(text: str) -> str:
    """A phrase without the gap that a colour's name has left."""
    return " ".join(text.split()).removesuffix(" of")


@record
class _Uncoloured:
    """The pattern's beads without their colours' names."""

    pattern: Pattern

    def bead(self, bead: int, /) -> Bead:
        """The bead of that number."""
        return self.pattern.bead(bead)

    def colour(self, letter: str, /) -> Colour:
        """The colour of that letter, its name left out."""
        return replace(self.pattern.colour(letter), name="")

    def section_of(self, bead: int, /) -> str:
        """The section in which that bead is picked up."""
        return self.pattern.section_of(bead)

    @property
    def wording(self) -> Wording:
        """How the stitch speaks."""
        return self.pattern.wording

    @property
    def band(self) -> Band:
        """What is woven."""
        return self.pattern.band


def _counted(number: int, kind: str) -> str:
    return f"{number} {kind}{'' if number == 1 else 's'}"


def _finished(place: Place, width: int) -> list[list[Run]]:
    look = place.dress
    text, rows = look.text(), place.left.rows
    said = [("DONE", f"All {rows} rows are woven.", text)]
    said += [("", sentence, look.quiet) for sentence in place.standing()]
    said.append(("", "Measure the band before you finish its ends.", look.quiet))
    return [line for part in said for line in folded(place, *part, width)]
