"""Large print: pick-ups and target in letters drawn from cells, for across the room."""

from __future__ import annotations

from itertools import groupby

from textual.geometry import Size
from textual.strip import Strip

from tracker.app.lines import cell_line, line
from tracker.app.place import Place
from tracker.app.widgets.now import lines_of
from tracker.app.widgets.place_view import PlaceView
from tracker.colours.srgb import ink_on
from tracker.path.words import Phrase
from tracker.pictures.big import HEIGHT, Sign, big_line, width_of


class Large(PlaceView):
    """What to pick up, above; where to go, below; the words as lines under it."""

    def draw(self, place: Place, size: Size) -> list[Strip]:
        """Draw a place."""
        width, height = size
        ground = place.dress.text()
        strips: list[Strip] = []
        for signs in _lines(place):
            if signs and len(strips) + HEIGHT + 2 <= height:
                across = 2 if width_of(signs) <= width else 1
                big = big_line(signs, mono=place.dress.mono, across=across)
                strips += [_filled(cell_line(cells), width, place) for cells in big]
        room = height - len(strips)
        if room > 0:
            words = lines_of(place, width, room)
            strips += [line(runs, width, ground) for runs in words[:room]]
        return strips


def _filled(strip: Strip, width: int, place: Place) -> Strip:
    rest = max(0, width - strip.cell_length)
    return Strip([*strip, *line([], rest, place.dress.text())]).crop(0, width)


def _lines(place: Place) -> list[tuple[Sign, ...]]:
    """One line of signs for the pick-ups, one for the holes."""
    if place.finished or place.unpicking is not None:
        return []
    moves = place.moves()
    picked = [sign for move in moves if move.move == "pick up" for sign in _picked(place, move)]
    through = [move for move in moves if move.move == "go through"]
    holes = [sign for i, move in enumerate(through, 1) for sign in _hole(place, move, i)]
    return [tuple(picked), tuple(holes)]


def _picked(place: Place, move: Phrase) -> list[Sign]:
    """The number and the letter of each run of beads: 1 S 1 A."""
    letters = [place.pattern.bead(bead).colour for bead in move.beads]
    signs = []
    for letter, same in groupby(letters):
        signs += [_plain(place, str(len(list(same)))), _coloured(place, letter)]
    return signs


def _hole(place: Place, move: Phrase, order: int) -> list[Sign]:
    """The order of a hole and the letter of its bead, an arrow for going back."""
    sign = "<" if move.back else str(order)
    mark = Sign(sign, place.dress.tones.sign, place.dress.mark)
    return [mark, _coloured(place, place.pattern.bead(move.beads[-1]).colour)]


def _plain(place: Place, sign: str) -> Sign:
    return Sign(sign, place.dress.tones.text, place.dress.ground)


def _coloured(place: Place, letter: str) -> Sign:
    colour = place.pattern.colour(letter).hex
    return Sign(letter, ink_on(colour), colour)
