"""Make the pictures of the screen that README and docs show, from the app itself.

    python tests/screens.py            writes patterns/screens/*.svg and docs/screens/*.svg
    python tests/screens.py --check    exits 1 if one of them is out of date

Blocks are drawn as rectangles, so that beads look the same whatever font the reader has, and no
font is fetched from anywhere.
"""

from __future__ import annotations

import asyncio
import contextlib
import os
import sys
import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from html import escape
from itertools import groupby
from pathlib import Path
from typing import NamedTuple

from rich.style import Style
from textual.strip import Strip

from tracker.app.main import TrackerApp
from tracker.progress.shelf import put
from tracker.progress.state import utc_now
from tracker.progress.store import Store
from tracker.settings.model import Settings
from tracker.starting import take_up

ROOT = Path(__file__).parents[1]
WIDE, HIGH = 10, 20
"""A cell, as the tracker takes it: twice as high as it is wide."""
FRONT, BACK = "#e6edf3", "#10141a"

# Bit 0 upper left, 1 upper right, 2 lower left, 3 lower right.
_QUADRANTS = " ▘▝▀▖▌▞▛▗▚▐▜▄▙▟█"
_SHADES = {"░": 0.25, "▒": 0.5, "▓": 0.75}


@dataclass(frozen=True, slots=True, kw_only=True)
class Shot:
    """A picture: what is opened, how large, which keys come first, and what is to be seen."""

    file: str
    """Where it is kept, in the project."""
    design: str = ""
    """The demo band in hand; "" for the bench."""
    pieces: tuple[str, ...] = ()
    """Demo bands begun before; the last one is set aside."""
    learn: bool = False
    size: tuple[int, int] = (80, 24)
    keys: tuple[str, ...] = ()
    title: str


ROW_13 = ("g", "1", "3", "enter")
SHOTS = (
    Shot(
        file="patterns/screens/stitching.svg",
        design="night-watch",
        size=(100, 32),
        keys=ROW_13,
        title="The tracker in row 13: what to pick up, where to go through, what to pass by",
    ),
    Shot(
        file="docs/screens/lesson.svg",
        learn=True,
        keys=("space", "backspace", "space", "space", "space", "g", "3", "enter"),
        title="The lesson: the move, the picture, and the panel that asks to pass by a full tile",
    ),
    Shot(
        file="docs/screens/start.svg",
        design="night-watch",
        keys=("space", "space"),
        title="Row 1, step 3: the first turn, in full words with a hint",
    ),
    Shot(
        file="docs/screens/big.svg",
        design="night-watch",
        keys=(*ROW_13, "b"),
        title="Big letters: what to pick up and where to go, to be read across the room",
    ),
    Shot(
        file="docs/screens/bench.svg",
        pieces=("night-watch", "first-light", "star-chart"),
        title="The bench: pieces in hand, one set aside, and designs to start",
    ),
    Shot(
        file="docs/screens/new-band.svg",
        size=(100, 32),
        keys=("down", "down", "e"),
        title="A design being changed, with the band drawn as it will be",
    ),
    Shot(
        file="docs/screens/supplies.svg",
        design="late-tram",
        keys=("i",),
        title="Supplies: beads by colour with spare and weight, and each length of thread",
    ),
)


class Look(NamedTuple):
    """How a cell is painted."""

    front: str
    back: str
    bold: bool


def main(arguments: Sequence[str]) -> int:
    """Write the pictures, or check them."""
    os.environ.pop("NO_COLOR", None)
    os.environ.pop("TRACKER_HOME", None)
    stale = 0
    for shot in SHOTS:
        path = ROOT / shot.file
        drawn = svg(asyncio.run(strips_of(shot)), shot.title)
        if arguments != ["--check"]:
            path.parent.mkdir(exist_ok=True)
            path.write_text(drawn, "utf-8")
            print(shot.file)
        elif not path.is_file() or path.read_text("utf-8") != drawn:
            stale = 1
            print(f"{shot.file} is out of date; run `python tests/screens.py`")
    return stale


async def strips_of(shot: Shot) -> list[Strip]:
    """The lines of the app's screen once the keys have been pressed."""
    with tempfile.TemporaryDirectory() as home, contextlib.chdir(ROOT):
        store = Store(Path(home))
        for design in shot.pieces:
            take_up(named(design), store).piece.close()
        if len(shot.pieces) > 1:
            folder = store.find(named(shot.pieces[-1]))[0].folder
            assert folder is not None
            put(folder, "set aside", utc_now())
        piece = take_up(named(shot.design), store) if shot.design else None
        app = TrackerApp(store, piece, Settings(bounce=0), learn=shot.learn)
        async with app.run_test(size=shot.size) as pilot:
            await pilot.press(*shot.keys)
            for _ in range(10):  # one piece after the other is looked into
                await app.workers.wait_for_complete()
                await pilot.pause()
            return app.screen._compositor.render_strips()


def named(design: str) -> str:
    """The file of a demo band, as the bench names it."""
    return f"patterns/{design}.design.toml"


def svg(strips: Sequence[Strip], title: str) -> str:
    """Lines of cells as an SVG document."""
    wide = WIDE * max(strip.cell_length for strip in strips)
    high = HIGH * len(strips)
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {wide} {high}" role="img">',
        f"<title>{escape(title)}</title>",
        "<style>text{font:16px ui-monospace,monospace;white-space:pre}.b{font-weight:700}</style>",
        f'<rect width="{wide}" height="{high}" fill="{BACK}"/>',
        '<g shape-rendering="crispEdges">',
    ]
    cells = [list(_cells(strip)) for strip in strips]
    for y, line in enumerate(cells):
        parts += _blocks(line, y * HIGH)
    parts.append("</g>")
    for y, line in enumerate(cells):
        parts += _letters(line, y * HIGH)
    return "\n".join([*parts, "</svg>", ""])


def _cells(strip: Strip) -> Iterator[tuple[str, Look]]:
    for text, style, _ in strip:
        look = _look(style or Style())
        for letter in text:
            yield letter, look


def _look(style: Style) -> Look:
    front = style.color.get_truecolor().hex if style.color and not style.color.is_default else FRONT
    ground = style.bgcolor
    back = ground.get_truecolor().hex if ground and not ground.is_default else BACK
    if style.reverse:
        front, back = back, front
    return Look(front, back, bool(style.bold))


def _blocks(line: Sequence[tuple[str, Look]], top: int) -> Iterator[str]:
    """Grounds and block characters: rectangles half a cell high, side by side as far as alike."""
    for lower in (0, 1):
        halves = []
        for letter, look in line:
            bits = _QUADRANTS.find(letter) >> 2 * lower & 3 if letter in _QUADRANTS else 0
            halves += [look.front if bits & 1 << side else look.back for side in (0, 1)]
        x = 0.0
        for colour, run in groupby(halves):
            width = len(list(run)) * WIDE / 2
            if colour != BACK:
                yield _rectangle(x, top + lower * HIGH / 2, width, HIGH / 2, colour)
            x += width
    for column, (letter, look) in enumerate(line):
        if letter in _SHADES:
            shade = f'" opacity="{_SHADES[letter]}'
            yield _rectangle(column * WIDE, top, WIDE, HIGH, look.front + shade)


def _rectangle(x: float, y: float, width: float, height: float, fill: str) -> str:
    return f'<rect x="{x:g}" y="{y:g}" width="{width:g}" height="{height:g}" fill="{fill}"/>'


def _letters(line: Sequence[tuple[str, Look]], top: int) -> Iterator[str]:
    """Everything that is read, a word or more at a time."""
    x = 0
    for look, run in groupby(line, key=lambda cell: cell[1]):
        text = "".join(letter for letter, _ in run)
        shown = "".join(" " if c in _QUADRANTS or c in _SHADES else c for c in text)
        if word := shown.strip():
            left = x + WIDE * (len(shown) - len(shown.lstrip()))
            bold = ' class="b"' if look.bold else ""
            yield (
                f'<text x="{left}" y="{top + 15}" textLength="{WIDE * len(word)}" '
                f'lengthAdjust="spacingAndGlyphs" fill="{look.front}"{bold}>{escape(word)}</text>'
            )
        x += WIDE * len(text)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
