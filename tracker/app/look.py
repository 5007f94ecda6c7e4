"""How the tracker's own parts look; the colours of the beads come from the pattern.

With NO_COLOR, and on terminals that have none, everything is told by letters, marks, bold and
reverse.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from functools import lru_cache

from rich.style import Style

from tracker.app.lines import Run, style
from tracker.app.tones import DARK, Tones
from tracker.colours.marks import ON_DARK, marks_for
from tracker.colours.srgb import ink_on
from tracker.design.model import Colour
from tracker.pictures.cells import Look
from tracker.records import record


@record
class Dress:
    """The styles in use; `mono` uses no colour at all."""

    mono: bool = False
    tones: Tones = DARK
    mark: str = ON_DARK.targets[0]
    """Of holes to go through and of the needle's way."""
    cross: str = ON_DARK.wrongs[0]
    """Of beads to pass by."""

    def on(self, colours: Iterable[Colour]) -> Dress:
        """The dress with marks that stand apart from beads of these colours."""
        mark, cross = marks_for(tuple(colour.hex for colour in colours), self.tones.marks)
        return _marked(self, mark, cross)

    def wearing(self, tones: Tones) -> Dress:
        """The dress in another theme."""
        return replace(self, tones=tones).on(())

    @property
    def cells(self) -> Look:
        """For the picture."""
        tones = self.tones
        return Look(
            ground=tones.ground,
            way=self.mark,
            new=tones.rim,
            hole=tones.hole,
            target=self.mark,
            wrong=self.cross,
            metal=tones.metal,
            mono=self.mono,
        )

    def text(self, *, bold: bool = False) -> Style:
        """Plain text."""
        return style("" if self.mono else self.tones.text, self.ground, bold)

    @property
    def ground(self) -> str:
        """The background."""
        return "" if self.mono else self.tones.ground

    @property
    def quiet(self) -> Style:
        """What is not looked at first. Contrast with the ground 7 : 1."""
        return style("" if self.mono else self.tones.quiet, self.ground)

    @property
    def label(self) -> Style:
        """Names of things."""
        return style("" if self.mono else self.tones.label, self.ground, True)

    @property
    def bar(self) -> Style:
        """The line at the top."""
        tones = self.tones
        return style("", "", True, True) if self.mono else style(tones.bar_text, tones.bar, True)

    @property
    def foot(self) -> Style:
        """The line at the bottom."""
        return style("", "") if self.mono else style(self.tones.foot, self.tones.raised)

    @property
    def key(self) -> Style:
        """A key in the line at the bottom."""
        tones = self.tones
        return style("", "", True, True) if self.mono else style(tones.key, tones.raised, True)

    @property
    def notice(self) -> Style:
        """Something to read once."""
        tones = self.tones
        return style("", "", True) if self.mono else style(tones.notice_text, tones.notice, True)

    @property
    def task(self) -> Style:
        """What the lesson tells."""
        return style("", "") if self.mono else style(self.tones.task_text, self.tones.task)

    @property
    def task_label(self) -> Style:
        """The name of a task."""
        return (
            style("", "", True, True)
            if self.mono
            else style(self.tones.task_sign, self.tones.task_label, True)
        )

    @property
    def alarm(self) -> Style:
        """What has to be seen for as long as it holds."""
        tones = self.tones
        return (
            style("", "", True, True) if self.mono else style(tones.alarm_text, tones.alarm, True)
        )

    @property
    def target(self) -> Style:
        """The number of a hole to go through, as in the picture."""
        return style("", "", True, True) if self.mono else style(self.tones.sign, self.mark, True)

    @property
    def wrong(self) -> Style:
        """A bead to pass by, as in the picture."""
        return style("", "", True, True) if self.mono else style(self.tones.sign, self.cross, True)

    def chip(self, colour: Colour, kind: str, *, tight: bool = False) -> Run:
        """A bead as a small shape: its letter in its colour, a tile squarer than a seed."""
        letter = colour.letter
        if self.mono:
            text = f"[ {letter} ]" if kind == "tile" else f"({letter})"
            return (f"{letter} " if tight else text, style("", "", True))
        text = f"  {letter}  " if kind == "tile" else f"({letter})"
        # Where black and white stand out alike, each 4.58 : 1.
        return (f" {letter} " if tight else text, style(ink_on(colour.hex), colour.hex, True))


@lru_cache(maxsize=64)
def _marked(dress: Dress, mark: str, cross: str) -> Dress:
    return replace(dress, mark=mark, cross=cross)
