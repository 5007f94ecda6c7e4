"""Hands for the tests of the app: designs to stitch, a piece in hand, keys to press."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path
from time import monotonic

from textual.events import Key
from textual.geometry import Region
from textual.pilot import Pilot

from tracker.app.look import Dress
from tracker.app.main import TrackerApp
from tracker.app.place import Place, Words
from tracker.app.screens.stitching import Stitching
from tracker.loading import compile_text
from tracker.pattern.model import Pattern
from tracker.progress.left import Counters
from tracker.progress.position import By, Position
from tracker.progress.state import Progress, utc_now
from tracker.progress.store import Store
from tracker.settings.model import Settings, Themes
from tracker.starting import take_up

NAMES = ("lagoon", "sand", "smoke")
LONG_NAMES = ("midnight over water!", "lamplight in the fog", "pewter of old spoons")
"""Names of 20 characters."""

_COUNTERS: dict[str, Counters] = {}
"""Those of a pattern, which take a while to make."""

TEMPLATE = """\
format = 1
name = '{name}'
stitch = "two-hole herringbone"
columns = {columns}

[size]
rows = {rows}

[beads]
tile = "half tile"
seed = "15/0"

[colours]
A = {{ name = '{names[0]}', hex = "#2a7f8e" }}
B = {{ name = '{names[1]}', hex = "#e8dcc0" }}
S = {{ name = '{names[2]}', hex = "#6b6f76" }}

[layout]
seeds = "S"
lanes = "{lanes}"

[thread]
diameter = "0.15 mm"
length = "{thread}"
tail = "250 mm"
"""


def design_text(
    columns: int = 2,
    rows: int = 6,
    *,
    names: tuple[str, str, str] = NAMES,
    name: str = "Harbour lights",
) -> str:
    """A design; its outer lanes are of another colour than the inner ones."""
    lanes = "B" + "A" * (2 * columns - 2) + "B"
    # A wide band takes more thread before the end of a row, where alone it can be joined.
    thread = "9 m" if columns > 20 else "4 m"
    return TEMPLATE.format(
        name=name, columns=columns, rows=rows, names=names, lanes=lanes, thread=thread
    )


def pattern_of(text: str) -> Pattern:
    """The pattern of a design."""
    return compile_text(text).pattern


def design_file(folder: Path, text: str, name: str = "harbour.design.toml") -> Path:
    """A design on the disk."""
    path = folder / name
    path.write_text(text, "utf-8")
    return path


def place_at(
    pattern: Pattern,
    position: Position,
    *,
    by: By = "step",
    words: Words = "auto",
    mono: bool = False,
) -> Place:
    """A place of a pattern as the widgets are given it."""
    progress = Progress(started=utc_now(), position=position)
    counters = _COUNTERS.get(pattern.digest) or Counters(pattern)
    _COUNTERS[pattern.digest] = counters
    return Place(
        pattern=pattern,
        position=position,
        name=pattern.name,
        by=by,
        words=words,
        left=counters.at(progress),
        read_only=False,
        dress=Dress(mono),
    )


@asynccontextmanager
async def at_work(
    home: Path,
    word: str | None,
    *,
    size: tuple[int, int] = (80, 24),
    bounce: float = 0.0,
    theme: Themes = "auto",
) -> AsyncIterator[Pilot[None]]:
    """The app with the piece that `word` means in hand, or at the bench.

    Pilots press faster than people, so the guard against bounces is off unless it is asked for.
    """
    store = Store(home)
    app = TrackerApp(
        store,
        None if word is None else take_up(word, store),
        Settings(bounce=round(bounce * 1000), theme=theme),
    )
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        yield pilot


async def press_at(pilot: Pilot[None], key: str, *times: float) -> None:
    """Press a key at these times of the clock, however slow this machine is."""
    for at in times:
        press = Key(key, " " if key == "space" else None)
        press.time = at
        pilot.app.post_message(press)
    await pilot.pause()


async def bouncing(pilot: Pilot[None], key: str) -> None:
    """Press a key that bounces: three presses within 30 ms."""
    at = monotonic()
    await press_at(pilot, key, at, at + 0.01, at + 0.03)


def place_on_disk(home: Path) -> Position:
    """Where the only piece of `home` stands by its files."""
    (listed,) = Store(home).pieces()
    assert listed.problem is None
    return listed.position


def shown_lines(pilot: Pilot[None]) -> list[str]:
    """What the screen shows, line by line, as composed for the terminal."""
    strips = pilot.app.screen._compositor.render_strips()
    return [strip.text for strip in strips]


def shown_text(pilot: Pilot[None]) -> str:
    """What the screen shows, in one piece: lines, frames and gaps are a space each."""
    return " ".join(" ".join(shown_lines(pilot)).replace("│", " ").split())


def region_of(pilot: Pilot[None], part: str) -> Region:
    """Where a part of the screen lies."""
    return pilot.app.screen.query_one(part).region


def place_shown(pilot: Pilot[None]) -> tuple[int, int]:
    """Row and step, from 1, as the line at the top names them."""
    words = shown_lines(pilot)[0].split()
    return int(words[words.index("ROW") + 1]), int(words[words.index("STEP") + 1])


def stitching(pilot: Pilot[None]) -> Stitching:
    """The stitching screen."""
    screen = pilot.app.screen
    assert isinstance(screen, Stitching)
    return screen
