"""The colours of the tracker's own parts; those of the beads come from the pattern.

With NO_COLOR, and on terminals that have none, everything is told by letters, marks, bold and
reverse.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from rich.style import Style

from tracker.app.lines import Run, style
from tracker.colours.marks import TARGETS, WRONGS, marks_for
from tracker.colours.srgb import ink_on
from tracker.design.model import Colour
from tracker.pictures.cells import Look

GROUND = "#10141a"
RAISED = "#1b222c"
TAUGHT = "#1d3a2a"


@dataclass(frozen=True, slots=True)
class Dress:
    """The styles in use; `mono` uses no colour at all."""

    mono: bool = False
    mark: str = TARGETS[0]
    """Of holes to go through and of the needle's way."""
    cross: str = WRONGS[0]
    """Of beads to pass by."""

    def on(self, colours: Iterable[Colour]) -> Dress:
        """The dress with marks that stand apart from beads of these colours."""
        mark, cross = marks_for(tuple(colour.hex for colour in colours))
        return replace(self, mark=mark, cross=cross)

    @property
    def cells(self) -> Look:
        """For the picture."""
        return Look(
            ground=GROUND, way=self.mark, target=self.mark, wrong=self.cross, mono=self.mono
        )

    def text(self, *, bold: bool = False) -> Style:
        """Plain text."""
        return style("" if self.mono else "#e6edf3", self.ground, bold)

    @property
    def ground(self) -> str:
        """The background."""
        return "" if self.mono else GROUND

    @property
    def quiet(self) -> Style:
        """What is not looked at first. Contrast with the ground 7 : 1."""
        return style("" if self.mono else "#a3b1c2", self.ground)

    @property
    def label(self) -> Style:
        """Names of things."""
        return style("" if self.mono else "#8fc7ff", self.ground, True)

    @property
    def bar(self) -> Style:
        """The line at the top."""
        return style("", "", True, True) if self.mono else style("#ffffff", "#24405c", True)

    @property
    def foot(self) -> Style:
        """The line at the bottom."""
        return style("", "") if self.mono else style("#c9d4e0", RAISED)

    @property
    def key(self) -> Style:
        """A key in the line at the bottom."""
        return style("", "", True, True) if self.mono else style("#ffe14d", RAISED, True)

    @property
    def notice(self) -> Style:
        """Something to read once."""
        return style("", "", True) if self.mono else style("#101010", "#ffd479", True)

    @property
    def task(self) -> Style:
        """What the lesson tells. Contrast 11 : 1."""
        return style("", "") if self.mono else style("#e6edf3", TAUGHT)

    @property
    def task_label(self) -> Style:
        """The name of a task. Contrast 11 : 1."""
        return style("", "", True, True) if self.mono else style("#101010", "#9ee6b4", True)

    @property
    def alarm(self) -> Style:
        """What has to be seen for as long as it holds. Contrast 8 : 1."""
        return style("", "", True, True) if self.mono else style("#ffffff", "#9c1c1c", True)

    @property
    def target(self) -> Style:
        """The number of a hole to go through, as in the picture."""
        return style("", "", True, True) if self.mono else style("#101010", self.mark, True)

    @property
    def wrong(self) -> Style:
        """A bead to pass by, as in the picture."""
        return style("", "", True, True) if self.mono else style("#101010", self.cross, True)

    def chip(self, colour: Colour, kind: str, *, tight: bool = False) -> Run:
        """A bead as a small shape: its letter in its colour, a tile squarer than a seed."""
        letter = colour.letter
        if self.mono:
            text = f"[ {letter} ]" if kind == "tile" else f"({letter})"
            return (f"{letter} " if tight else text, style("", "", True))
        text = f"  {letter}  " if kind == "tile" else f"({letter})"
        # Where black and white stand out alike, each 4.58 : 1.
        return (f" {letter} " if tight else text, style(ink_on(colour.hex), colour.hex, True))
