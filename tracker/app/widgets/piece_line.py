"""A piece in the list of the bench: its name, its row, its time, and its band as a strip."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import field
from datetime import datetime

from rich.segment import Segment
from rich.style import Style as RichStyle
from textual.css.styles import RulesMap
from textual.strip import Strip
from textual.style import Style
from textual.visual import RenderOptions, Visual

from tracker.app.lines import Run, column, on_any_ground
from tracker.app.lines import style as rich_style
from tracker.app.look import Dress
from tracker.app.widgets.band import band_cells, letters_in, sample, strips
from tracker.colours.srgb import ink_on
from tracker.dates import here
from tracker.files import read_text
from tracker.pattern.reader import LARGEST, parse_pattern
from tracker.problems import ProblemsError, shown
from tracker.progress.left import Counters, duration
from tracker.progress.opened import open_piece
from tracker.progress.piece import PieceFolder
from tracker.progress.store import Listed
from tracker.records import record

INDENT, NAME, REST = 3, 28, 17
"""Cells before the name, of the name, and of the row behind it."""
TEXT = INDENT + NAME + 1 + REST
LEAST_PICTURE, MOST_PICTURE = 8, 120
LANES = 4
UNSOUND = f"{'':{INDENT}}cannot be opened: choose it to see why"


@record(kw_only=True)
class Glimpse:
    """What of a piece takes its whole pattern and journal to know."""

    lanes: list[list[str]] = field(default_factory=list)
    """Letters of the colours, lane by lane, as long as the picture."""
    colours: Mapping[str, str] = field(default_factory=dict)
    minutes: float | None = None
    """Time left at the beader's own pace; None while none is known."""
    sound: bool = True
    """Whether the piece can be opened."""


def glimpse(folder: PieceFolder, room: int) -> Glimpse:
    """Look into a piece, its picture at most `room` cells long. Touches nothing of the app."""
    try:
        pattern = parse_pattern(read_text(folder.pattern_path, LARGEST))
        with open_piece(folder, pattern, read_only=True) as piece:
            left = Counters(pattern).at(piece.progress)
    except ProblemsError:  # said in full when it is chosen
        return Glimpse(sound=False)
    used = letters_in(sample(pattern, band_cells(pattern, room), LANES))
    return Glimpse(
        lanes=sample(pattern, band_cells(pattern, room - _named(used)), LANES),
        colours={colour.letter: colour.hex for colour in pattern.colours},
        minutes=left.minutes,
    )


def _names(
    letters: list[str], colours: Mapping[str, str], wide: int, ground: RichStyle
) -> Iterator[Segment]:
    """Letters of the colours before the picture, which has no room for them."""
    for letter in letters:
        code = colours[letter]
        yield Segment(letter, rich_style(ink_on(code), code, bold=True))
    yield Segment(" " * (wide + 1 - len(letters)), ground)


def _named(letters: list[str]) -> int:
    """Cells before a picture of two lines that the letters of its colours take, and a gap."""
    return (len(letters) + 1) // 2 + 1


class PieceLine(Visual):
    """Two lines of the list. `wanted` is called with the room for its picture when it is shown."""

    def __init__(
        self,
        piece: Listed,
        seen: Glimpse | None,
        dress: Dress,
        wanted: Callable[[int], None],
    ) -> None:
        self._piece = piece
        self._seen = seen
        self._dress = dress
        self._wanted = wanted

    def __str__(self) -> str:
        return "\n".join("".join(text for text, _ in runs) for runs in self._words(TEXT))

    def get_height(self, rules: RulesMap, width: int) -> int:  # noqa: ARG002  Textual's own
        """Two lines, whatever the width."""
        return 2

    def get_optimal_width(self, rules: RulesMap, container_width: int) -> int:  # noqa: ARG002
        """All that there is."""
        return container_width

    def render_strips(
        self,
        width: int,
        height: int | None,  # noqa: ARG002  Textual's own
        style: Style,
        options: RenderOptions,  # noqa: ARG002
    ) -> list[Strip]:
        """The lines, the picture at their right where there is room for one."""
        ground = style.rich_style
        room = min(MOST_PICTURE, width - TEXT - 2)
        picture: list[Strip] = []
        if room >= LEAST_PICTURE:
            if self._seen is None:
                self._wanted(room)
            else:
                picture = self._picture(self._seen, ground)
        lines = []
        for y, runs in enumerate(self._words(width)):
            said = [Segment(text, ground + on_any_ground(look)) for text, look in runs]
            line = Strip(said).adjust_cell_length(min(width, TEXT + 1), ground)
            lines.append(Strip.join([line, *picture[y : y + 1]]).adjust_cell_length(width, ground))
        return lines

    def _picture(self, seen: Glimpse, ground: RichStyle) -> list[Strip]:
        if not seen.lanes or self._piece.folder is None:
            return []
        needle = len(seen.lanes[0]) * self._piece.position.row // self._piece.folder.rows
        drawn = strips(seen.lanes, seen.colours, needle, self._dress)
        if self._dress.mono:  # it is made of letters already
            return drawn
        names = letters_in(seen.lanes)
        wide = _named(names) - 1
        both = (names[:wide], names[wide:])
        return [
            Strip([*_names(part, seen.colours, wide, ground), *strip])
            for part, strip in zip(both, drawn, strict=True)
        ]

    def _words(self, width: int) -> list[list[Run]]:
        piece, look = self._piece, self._dress
        plain, quiet = look.text(), look.quiet
        name = column(shown(piece.name), min(NAME, max(1, width - INDENT)))
        above: list[Run] = [(f"{'':{INDENT}}{name} ", look.text(bold=True))]
        if piece.problem is not None or piece.folder is None:
            return [above, [(UNSOUND, quiet)]]
        if piece.finished:
            above.append((f"finished, {piece.folder.rows} rows", quiet))
        else:
            above.append((f"row {piece.position.row + 1} of {piece.folder.rows}", plain))
        if self._seen is not None and not self._seen.sound:
            return [above, [(UNSOUND, quiet)]]
        when = "" if piece.last_stitched is None else local_time(piece.last_stitched)
        minutes = None
        if self._seen is not None and piece.shelf != "finished":
            minutes = self._seen.minutes
        left = "" if minutes is None else f"{duration(minutes)} left"
        return [above, [(f"{'':{INDENT}}{column(when, NAME)} {left}", quiet)]]


def local_time(at: datetime) -> str:
    """A time as this place counts it."""
    return f"{here(at):%d %b %Y, %H:%M}"
