"""What all drawings on paper share: ink, figures, escaped text, arrows.

A drawing is in millimetres, x as in the plane of the band and y the other way, for paper is
written from the top.
"""

from __future__ import annotations

import html
import math
import unicodedata
from collections.abc import Iterable

from tracker.path.plane import Point, unrolled
from tracker.problems import shown
from tracker.records import record

PAPER = "#ffffff"
INK = "#1b1f24"
QUIET = "#59616b"
"""Scales and remarks: 6 to 1 on paper."""
WAY = "#0a4f9c"
"""The needle's way and the holes it goes through."""
WRONG = "#b3261e"
"""What must not be gone through."""


@record(kw_only=True)
class Inks:
    """The colours of a figure's marks: those of paper unless it is drawn elsewhere."""

    paper: str = PAPER
    """Of the ground, and round every mark, so that it is seen on any bead."""
    rim: str = INK
    """Round new beads."""
    thread: str = QUIET
    way: str = WAY
    wrong: str = WRONG
    hole: str = PAPER
    """Inside the ring round a hole to go through."""
    number: str = INK
    """Of the ring."""


ON_PAPER = Inks()

FACES = "Helvetica, Arial, 'DejaVu Sans', sans-serif"

_WIDTH_OF_A_LETTER = 0.6
"""Of its height, on the whole a little more than it is: the faces are not known here."""


def number(value: float) -> str:
    """A length as short as can be, to 0.01 mm: `2.4`, `-0.55`, `12`."""
    return f"{value:.2f}".rstrip("0").rstrip(".").replace("-0", "0" if abs(value) < 0.005 else "-0")


def escaped(text: str) -> str:
    """Text of a file as text of the drawing: nothing in it is markup, or a control character."""
    return html.escape(shown(text))


def at(point: Point) -> str:
    """A point of the band's plane, on paper."""
    return f"{number(point[0])} {number(-point[1])}"


def line(points: Iterable[Point], around: float = 0.0) -> str:
    """The `d` of a path through points of the band's plane.

    `around` is the girth of a tube (mm), at whose seam the line is broken.
    """
    pieces = unrolled(tuple(points), around)
    return "".join("M" + "L".join(at(point) for point in piece) for piece in pieces)


def text_width(text: str, size: float) -> float:
    """About how wide a text is, for room to be left."""
    wide = sum(unicodedata.east_asian_width(c) in "WF" for c in text)
    return size * (_WIDTH_OF_A_LETTER * (len(text) - wide) + wide)


def arrow_head(tail: Point, tip: Point, size: float) -> list[Point]:
    """A triangle whose point is at `tip`, for a line that comes from `tail`."""
    far = math.hypot(tip[0] - tail[0], tip[1] - tail[1]) or 1.0
    ahead_x, ahead_y = (tip[0] - tail[0]) / far, (tip[1] - tail[1]) / far
    return [
        (
            tip[0] - size * back * ahead_x - size * aside * ahead_y,
            tip[1] - size * back * ahead_y + size * aside * ahead_x,
        )
        for back, aside in ((0.0, 0.0), (1.0, 0.55), (1.0, -0.55))
    ]
