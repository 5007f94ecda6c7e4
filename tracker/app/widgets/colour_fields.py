"""The colours of a design: a letter, a name, a code and the colour itself, a line each."""

from __future__ import annotations

import re
import string
from collections.abc import Iterable
from itertools import count

from rich.text import Text
from textual.app import ComposeResult
from textual.containers import Vertical
from textual.widgets import Input, Static

from tracker.app.look import Dress
from tracker.app.widgets.field import Field, line_of
from tracker.design.editing import DraftColour
from tracker.design.model import Colour

_HEX = re.compile(r"#[0-9a-fA-F]{6}")
FRESH = ("#7a5195", "#bc5090", "#ef5675", "#ff764a", "#ffa600", "#4c956c", "#2c6e49", "#d6ccc2")
"""Colours that a new one begins with, to be changed."""


class ColourField(Field):
    """One colour."""

    DEFAULT_CSS = """
    ColourField .letter { width: 3; }
    ColourField .name { width: 1fr; }
    ColourField .code { width: 9; }
    ColourField .swatch { width: 6; }
    """

    def __init__(self, colour: DraftColour, dress: Dress, *, id: str) -> None:  # noqa: A002  Textual's own word
        super().__init__("Colour", id=id)
        self._dress = dress
        self._lines = tuple(
            line_of(text, f"{id}-{part}", longest=longest)
            for text, part, longest in (
                (colour.letter, "letter", 1),
                (colour.name, "name", 60),
                (colour.hex, "code", 7),
            )
        )
        for line, part in zip(self._lines, ("letter", "name", "code"), strict=True):
            line.add_class(part)
        self._swatch = Static(classes="swatch")

    def parts(self) -> Iterable[Input | Static]:
        """Letter, name, code, and how it looks."""
        yield from self._lines
        yield self._swatch

    def on_mount(self) -> None:
        """Show the colour."""
        self.paint()

    @property
    def colour(self) -> DraftColour:
        """What is typed."""
        letter, name, code = (line.value for line in self._lines)
        return DraftColour(letter.upper(), name, code)

    @property
    def value(self) -> str:
        """Its letter."""
        return self.colour.letter

    def paint(self) -> None:
        """Show the colour, if the code is one."""
        colour = self.colour
        said = Text(" ")
        if _HEX.fullmatch(colour.hex):
            chip = self._dress.chip(Colour(colour.letter or " ", "", colour.hex), "tile")
            said.append(*chip)
        self._swatch.update(said)


class ColourFields(Vertical):
    """All of them."""

    DEFAULT_CSS = "ColourFields { height: auto; }"

    def __init__(self, colours: Iterable[DraftColour], dress: Dress, *, id: str) -> None:  # noqa: A002  Textual's own word
        super().__init__(id=id)
        self._numbers = count()
        self._dress = dress
        self._first = [self._field(colour) for colour in colours]

    def compose(self) -> ComposeResult:
        """The colours that there are."""
        yield from self._first

    @property
    def colours(self) -> tuple[DraftColour, ...]:
        """What is typed, in order."""
        return tuple(field.colour for field in self.query(ColourField))

    async def add(self) -> None:
        """One more colour, with the next free letter; its name is to be typed."""
        taken = {colour.letter for colour in self.colours}
        free = next((letter for letter in string.ascii_uppercase if letter not in taken), None)
        if free is None:
            return
        fresh = FRESH[len(taken) % len(FRESH)]
        field = self._field(DraftColour(free, f"colour {free}", fresh))
        await self.mount(field)
        field.query(Input)[1].focus()

    async def take_out(self) -> bool:
        """Take out the colour that the cursor is on; whether there was one."""
        fields = list(self.query(ColourField))
        here = next((field for field in fields if field.has_focus_within), None)
        if here is None or len(fields) == 1:
            return False
        at = fields.index(here)
        neighbour = fields[at - 1] if at else fields[1]
        neighbour.query(Input)[0].focus()
        await here.remove()
        return True

    def _field(self, colour: DraftColour) -> ColourField:
        return ColourField(colour, self._dress, id=f"colour-{next(self._numbers)}")
