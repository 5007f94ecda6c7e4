"""The band as it will be, drawn while its design is typed, and what it comes to.

The typing never waits: a design is woven in a thread of its own, and only the last one that was
asked for is shown.
"""

from __future__ import annotations

import asyncio

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.message import Message
from textual.strip import Strip
from textual.timer import Timer

from tracker.app.lines import Lines, cell_line, half_cells, line
from tracker.app.look import Dress
from tracker.app.widgets.band import sample
from tracker.app.widgets.figures import figures
from tracker.design.editing import Draft
from tracker.design.layout import tile_colour
from tracker.design.model import Design
from tracker.pattern.model import Pattern
from tracker.pattern.preview import Preview, Seen, seen
from tracker.pictures.cells import Cell, Painter
from tracker.pictures.scene import scene_at
from tracker.pictures.view import View
from tracker.records import record

PAUSE = 0.12
"""Seconds without a key after which what is typed is looked at."""
LEAST_SCALE, MOST_SCALE = 0.45, 1.4
"""Rows of cells to a millimetre: below, the tiles' letters run into each other."""
EDGE = 1.0
STRIP = 2
"""Lines of the whole band."""


class PreviewPane(Vertical):
    """The picture above, the whole band as a strip, the figures below."""

    DEFAULT_CSS = """
    PreviewPane { width: 1fr; height: 1fr; }
    PreviewPane #drawn { height: 2fr; }
    PreviewPane #whole { height: 2; }
    PreviewPane #figures { height: 3fr; }
    """

    @record(frozen=False, slots=False)
    class Looked(Message):
        """What was typed has been looked at."""

        seen: Seen

    def __init__(self, dress: Dress, *, id: str, figures_shown: bool = True) -> None:  # noqa: A002  Textual's own word
        super().__init__(id=id)
        self.pace: float | None = None
        """Seconds a step, if known."""
        self._dress = dress
        self._figures_shown = figures_shown
        self._wanted: tuple[Draft, str] | None = None
        self._at_work = False
        self._timer: Timer | None = None
        self._shown: Preview | None = None

    def compose(self) -> ComposeResult:
        """Three parts."""
        yield Lines(id="drawn")
        yield Lines(id="whole")
        if self._figures_shown:
            yield Lines(id="figures")

    @property
    def settled(self) -> bool:
        """Whether what is shown is the last draft that was asked for."""
        return self._wanted is None and not self._at_work

    def want(self, draft: Draft, old_text: str) -> None:
        """Look at a draft as soon as no key comes for a moment."""
        self._wanted = (draft, old_text)
        if self._timer is not None:
            self._timer.stop()
        self._timer = self.set_timer(PAUSE, self._go)

    def on_resize(self) -> None:
        """Draw it in the new size."""
        self.call_after_refresh(self.show)

    def _go(self) -> None:
        if not self._at_work and self._wanted is not None:
            self._at_work = True
            self.run_worker(self._look(), group="preview")

    async def _look(self) -> None:
        try:
            while self._wanted is not None:
                draft, old_text = self._wanted
                self._wanted = None
                found = await asyncio.to_thread(seen, draft, old_text)
                if self._wanted is None:
                    self._shown = found.preview or self._shown
                    self.show()
                    self.post_message(self.Looked(found))
        finally:
            self._at_work = False

    def show(self) -> None:
        """Draw what was woven last."""
        if self._shown is None or not self.is_mounted:
            return
        drawn, whole = self.query_one("#drawn", Lines), self.query_one("#whole", Lines)
        wide, high = drawn.size
        if wide < 4 or high < 2:
            return
        drawn.show(band_picture(self._shown.pattern, wide, high, self._dress))
        strip = whole_band(self._shown, wide - 2, self._dress)
        margin = list(line([], 1, self._dress.text()))
        whole.show([Strip([*margin, *cells]) for cells in strip])
        if self._figures_shown:
            part = self.query_one("#figures", Lines)
            lines = figures(self._shown, self._dress, part.size.width, self.pace)
            ground = self._dress.text()
            part.show([line(runs, part.size.width, ground) for runs in lines[: part.size.height]])


def band_picture(pattern: Pattern, wide: int, high: int, dress: Dress) -> list[Strip]:
    """The beginning of the band in true geometry, as wide as there is room for."""
    across = pattern.gauge.width + 2 * EDGE
    scale = min(MOST_SCALE, max(LEAST_SCALE, high / across))
    length = wide / (2 * scale)
    rows = min(pattern.row_count, int(length / pattern.gauge.pitch) + 4)
    scene = scene_at(pattern, rows, 0, back=rows)
    heights = [d.bead.place.y for d in scene.beads if d.bead.kind == pattern.body]
    middle = (min(heights) + max(heights)) / 2
    tall = high / scale
    # Of a band that is too wide the lower edge is shown, where lane 1 lies.
    top = middle + tall / 2 if tall >= across else middle - across / 2 + tall
    left = -pattern.gauge.start / 2 - 1.5
    view = View(wide, high, scale, left, top)
    colours = {colour.letter: colour.hex for colour in pattern.colours}
    return Painter().lines(scene, view, colours, dress.cells, cell_line)


def whole_band(preview: Preview, wide: int, dress: Dress) -> list[Strip]:
    """The whole band as a strip, each place in the colour of the tile that lies there."""
    length = max(1, min(wide, preview.rows))
    if preview.pattern.woven_rows == preview.rows:
        letters = sample(preview.pattern, length, 2 * STRIP)
    else:
        letters = sampled(preview.design, preview.rows, length, 2 * STRIP)
    codes = {colour.letter: colour.hex for colour in preview.design.colours}
    strips = []
    for upper, lower in zip(letters[::2], letters[1::2], strict=True):
        if dress.mono:
            strips.append(cell_line([Cell(letter, "", "") for letter in upper]))
        else:
            halves = zip(upper, lower, strict=True)
            strips.append(
                cell_line([half_cells(codes.get(a, ""), codes.get(b, "")) for a, b in halves])
            )
    return strips


def sampled(design: Design, rows: int, length: int, lanes: int) -> list[list[str]]:
    """Letters of the colours, lane by lane from the upper edge, at `length` places.

    Of a long band of tiles, of which the first rows alone are woven.
    """
    colour = tile_colour(design.layout, design.columns, rows)
    there = design.wide
    found = []
    for i in range(lanes):
        lane = there - i * there // lanes  # from 1, the upper edge first
        column, first = (lane + 1) // 2, 1 if lane % 2 == 0 else 2
        row_at = [place * rows // length // 2 * 2 + first for place in range(length)]
        found.append([colour(min(row, rows), column) for row in row_at])
    return found
