"""What a picture of the band shows, and where everything lies on its paper. Lengths in mm."""

from __future__ import annotations

from collections.abc import Iterator

from tracker.pattern.model import Pattern
from tracker.pictures.paper import text_width
from tracker.pictures.scales import SCALE_HEIGHT
from tracker.pictures.symbols import Symbols
from tracker.pictures.whole_band import WholeBand
from tracker.records import record

MARGIN = 3.0
UNIT_ROOM = 6.0
"""Left of the scales, for what they count."""
TITLE, TEXT = 4.2, 2.9
"""Heights of the letters."""
LEGEND_LINE = 4.6
_NAME_ROOM, _ROW_ROOM, _NOTE_ROOM = 10.0, 5.5, 4.0


@record(kw_only=True)
class Drawing:
    """What a picture of the band shows."""

    thread: bool = False
    """The thread path, from the tail to the working thread."""
    letters: bool = False
    """Each tile bears the letter of its colour."""
    row: int | None = None
    """The row to point out, counted from 1; the others fade."""
    rows: tuple[int, int] | None = None
    """The first and the last row to draw, counted from 1; None for all."""
    width: float | None = None
    """How wide the whole picture is to be; None draws the band in its real size."""
    words: bool = True
    """The band's name above, the list of its beads below."""
    scales: bool = True
    """Numbers of the rows above, millimetres and inches below."""
    mark: str = ""
    """What every id begins with: sets drawings in one page apart."""


class Sheet:
    """The paper: x to the right, y downwards, from its upper left corner."""

    def __init__(self, pattern: Pattern, drawing: Drawing, band: WholeBand) -> None:
        left, right, low, high = band.extent
        colours = {colour.letter: colour.hex for colour in pattern.colours}
        self.drawing = drawing
        self.symbols = Symbols(
            colours, letters=drawing.letters, mark=drawing.mark, body=pattern.body
        )
        self.edge = MARGIN + (UNIT_ROOM if drawing.scales else 0.0)
        """Where the band begins."""
        self.left = self.edge - left
        """Of the band's x = 0."""
        above = drawing.scales or drawing.row is not None
        self.top = MARGIN + drawing.words * _NAME_ROOM + above * _ROW_ROOM
        self.middle = self.top + high
        """Of the band's y = 0."""
        self.bottom = self.top + high - low + 1.6
        self.legend_top = self.bottom + drawing.scales * (2 * SCALE_HEIGHT + 1.5)
        self.width = self.edge + right - left + MARGIN

        self.legend = tuple(_legend(pattern, self.symbols)) if drawing.words else ()
        """For each kind of bead: the id of one, and what it is."""
        self.apart = max((text_width(text, TEXT) + 10.0 for _, text in self.legend), default=0.0)
        self.in_line = 1
        if drawing.words:
            widest = max(text_width(pattern.name, TITLE), text_width(facts(pattern), TEXT))
            self.width = max(self.width, 2 * MARGIN + max(widest, self.apart))
            self.in_line = max(1, int((self.width - 2 * MARGIN) // self.apart))
        lines = -(-len(self.legend) // self.in_line)
        self.height = (
            self.legend_top + lines * LEGEND_LINE + (_NOTE_ROOM if drawing.scales else MARGIN)
        )
        self.scale = 1.0 if drawing.width is None else drawing.width / self.width
        """Of the picture to the band itself."""


def facts(pattern: Pattern) -> str:
    """What the band is, in a line."""
    rows, wide = pattern.woven_rows, f"{pattern.gauge.width:.0f} mm"
    across = f"{wide} in girth, unrolled" if pattern.around else f"{wide} wide"
    return (
        f"{pattern.stitch}, {pattern.width_words}, {rows} rows, "
        f"about {pattern.gauge.length(rows):.0f} mm long and {across}"
    )


def _legend(pattern: Pattern, symbols: Symbols) -> Iterator[tuple[str, str]]:
    for key, kind in pattern.kinds():
        name = pattern.colour(kind.colour).name
        text = f"{kind.colour}: {name}, {kind.shape.name} ({pattern.totals[key]})"
        yield symbols.bead(kind.shape, kind.colour, 0.0), text
