"""The app on a pseudo-terminal beside plain apps: first frame, keys, idling, memory.

Times go from the start of a process, or from a key's byte, to the byte that shows the answer. The
programs take turns, so that whatever else the machine does hits all alike.
"""

import os
import random
import select
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import ExitStack
from dataclasses import dataclass
from pathlib import Path

from figures import Figure, figure
from hands import design_text
from terminals import TRACKER, Terminal

from tracker.loading import compile_text
from tracker.progress.position import Position
from tracker.progress.state import Moved, utc_now
from tracker.progress.store import Store
from tracker.starting import take_up

STEPS = 3
"""Steps in a row of 2 columns; a row of more has more."""
LINE = b"a line of about as many bytes as a journal's line has in it, a bit more\n"
WARM = 12
"""Keys that are not counted: an evening's work has thousands."""
QUIET = 0.4
"""Seconds without output after which a program has nothing left to do."""

BLANK = """
from textual.app import App
class Blank(App):
    def compose(self):
        from textual.widgets import Label
        yield Label("place 0 ")
Blank().run(mouse=False)
"""
SAVING = f"""
import os
from textual.app import App
from textual.widgets import Label
class Saving(App):
    BINDINGS = [("space", "on", "on")]
    count = 0
    def compose(self):
        self.file = os.open("journal", os.O_WRONLY | os.O_CREAT | os.O_APPEND)
        yield Label("place 0 ")
    def action_on(self):
        self.count += 1
        os.write(self.file, {LINE!r})
        os.fdatasync(self.file)
        self.query_one(Label).update(f"place {{self.count}} ")
Saving().run(mouse=False)
"""

PAGE = f"""
import os
from rich.segment import Segment
from rich.style import Style
from textual.app import App
from textual.strip import Strip
from textual.widget import Widget
class Page(Widget):
    def render_line(self, y):
        count = self.app.count
        tone = Style(color="#e6edf3", bgcolor=f"#10{{(count + y) % 200:02x}}40")
        text = f"place {{count}} " if y == 0 else f"{{count + y:<10}}"
        return Strip([Segment(f"{{text:<10}}", tone)] + [
            Segment(f"{{count % 10}}" * 7, Style(color=f"#{{(count + i) % 200 + 10:02x}}8f8f"))
            for i in range(10)], 80)
class Saving(App):
    BINDINGS = [("space", "on", "on")]
    count = 0
    def compose(self):
        self.file = os.open("page", os.O_WRONLY | os.O_CREAT | os.O_APPEND)
        yield Page()
    def action_on(self):
        os.write(self.file, {LINE!r})
        os.fdatasync(self.file)
        self.count += 1
        self.query_one(Page).refresh()
Saving().run(mouse=False)
"""
"""Paints as many lines as the tracker does at a key, each of a few colours, and draws nothing."""


@dataclass(frozen=True, slots=True)
class Program:
    """A program, and what shows that it has painted."""

    name: str
    argv: tuple[str, ...]
    painted: str
    steps: int = 0
    """Steps in a row of the piece that it has open."""

    def answer(self, number: int) -> str:
        """What shows the answer to key `number`, from 1."""
        return f"STEP {number % self.steps + 1} of" if self.steps else f"place {number} "


def python(name: str, code: str) -> Program:
    """A plain app."""
    return Program(name, (sys.executable, "-c", code), "place 0 ")


class Watched(Terminal):
    """A terminal that only looks for bytes: interpreting them would take longer than they do."""

    def look(self, seconds: float = 0.02) -> None:
        """Take in what there is."""
        if select.select([self._master], [], [], seconds)[0]:
            self.raw += os.read(self._master, 65536)

    def until(self, text: str) -> None:
        """Wait for a text."""
        deadline = time.perf_counter() + 60
        while text.encode() not in self.raw:
            if time.perf_counter() > deadline:
                raise TimeoutError(text)
            self.look()

    def settle(self) -> None:
        """Wait until nothing more is painted."""
        while select.select([self._master], [], [], QUIET)[0]:
            self.look()

    def proc(self, file: str) -> str:
        """What Linux tells of the process."""
        return Path(f"/proc/{self.process.pid}/{file}").read_text("utf-8")

    @property
    def seconds(self) -> float:
        """Processor time that it has taken."""
        fields = self.proc("stat").rpartition(")")[2].split()
        return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")

    @property
    def wakeups(self) -> int:
        """How often any of its threads has been woken."""
        threads = Path(f"/proc/{self.process.pid}/task").iterdir()
        told = ((thread / "status").read_text("utf-8") for thread in threads)
        return sum(
            int(text.rpartition("\nvoluntary_ctxt_switches:")[2].split()[0]) for text in told
        )

    @property
    def peak(self) -> float:
        """The most memory that it has held, MB."""
        return int(self.proc("status").partition("VmHWM:")[2].split()[0]) / 1000


def measure(*, quick: bool) -> Iterator[Figure]:
    """All figures of the screen."""
    bands = [(2, 100)] if quick else [(2, 100), (2, 2000), (2, 5000), (40, 5000)]
    with tempfile.TemporaryDirectory() as folder:
        home = Path(folder)
        pieces = [_piece(home, columns, rows) for columns, rows in bands]
        yield from _first_frames(home, [p for p in pieces if "2 x" in p.name], 2 if quick else 11)
        yield from _keys(home, pieces, 8 if quick else 60)
        yield from _saves(home, bands, 20 if quick else 150)
        if sys.platform == "linux":
            yield from _at_rest(home, pieces, 1.0 if quick else 8.0)


def _piece(home: Path, columns: int, rows: int) -> Program:
    """A piece in its middle, as the program that opens it."""
    text = compile_text(design_text(columns, rows, name=f"Band {columns} x {rows}")).text
    file = home / f"band-{columns}-{rows}.pattern.toml"
    file.write_text(text, "utf-8")
    in_hand = take_up(str(file), Store(home))
    with in_hand.piece as piece:
        piece.record(Moved(utc_now(), Position(rows // 2, 0)))
    steps = in_hand.pattern.steps_in(rows // 2)
    argv = (*TRACKER, "open", str(file))
    return Program(f"{columns} x {rows:,} rows", argv, f"ROW {rows // 2 + 1} of", steps)


def _first_frames(home: Path, pieces: list[Program], repeats: int) -> Iterator[Figure]:
    part = "from the command to the first painted row"
    programs = [python("a blank app", BLANK), *pieces]
    taken: dict[str, list[float]] = {program.name: [] for program in programs}
    worked: dict[str, list[float]] = {program.name: [] for program in programs}
    for _ in range(repeats):
        for program in programs:
            start = time.perf_counter()
            with Watched(home, *program.argv) as terminal:
                terminal.until(program.painted)
                taken[program.name].append(1000 * (time.perf_counter() - start))
                if sys.platform == "linux":
                    worked[program.name].append(1000 * terminal.seconds)
    yield figure(part, "a blank app", "ms", taken["a blank app"])
    for piece in pieces:
        base = taken["a blank app"]
        yield figure(part, f"a piece of {piece.name}", "ms", taken[piece.name], base, goal=1.3)
    if sys.platform == "linux":  # which a busy machine changes least
        part = "processor time to the first painted row"
        yield figure(part, "a blank app", "ms", worked["a blank app"])
        for piece in pieces:
            base = worked["a blank app"]
            yield figure(part, f"a piece of {piece.name}", "ms", worked[piece.name], base)


def _keys(home: Path, pieces: list[Program], repeats: int) -> Iterator[Figure]:
    part = "from a key to saved and painted"
    label = python("a label that saves a line", SAVING)
    page = python("an app that saves and paints a whole page", PAGE)
    programs = [label, page, *pieces]
    taken: dict[str, list[float]] = {program.name: [] for program in programs}
    worked: dict[str, list[float]] = {program.name: [] for program in programs}
    disk = _Disk(home)
    rests = random.Random(1)  # noqa: S311  people's keys keep no beat, and no beat hides in a frame
    with ExitStack() as stack:
        terminals = {p.name: stack.enter_context(Watched(home, *p.argv)) for p in programs}
        for program in programs:
            terminals[program.name].until(program.painted)
            terminals[program.name].settle()
        before = dict.fromkeys(terminals, 0.0)
        for number in range(1, WARM + repeats + 1):
            if number == WARM + 1 and sys.platform == "linux":
                before = {name: terminal.seconds for name, terminal in terminals.items()}
            disk.save()
            for program in programs:
                terminal = terminals[program.name]
                time.sleep(rests.uniform(0.02, 0.06))
                terminal.raw = b""
                start = time.perf_counter()
                terminal.type(" ")
                terminal.until(program.answer(number))
                taken[program.name].append(1000 * (time.perf_counter() - start))
                # The frame ends somewhat behind its first line.
                terminal.look(0.005)
        taken = {name: times[WARM:] for name, times in taken.items()}
        for name, terminal in terminals.items():
            terminal.settle()
            if sys.platform == "linux":
                worked[name].append(1000 * (terminal.seconds - before[name]) / repeats)
    yield figure(part, "the disk alone: a line written and synced", "ms", disk.taken)
    yield figure(part, label.name, "ms", taken[label.name])
    yield figure(part, page.name, "ms", taken[page.name], taken[label.name])
    for piece in pieces:
        name = piece.name
        yield figure(part, f"a piece of {name}", "ms", taken[name], taken[label.name], goal=1.5)
        yield figure(part, f"{name} against the page", "ms", taken[name], taken[page.name])
    if sys.platform == "linux":
        part = "processor time a key"
        yield figure(part, label.name, "ms", worked[label.name])
        yield figure(part, page.name, "ms", worked[page.name], worked[label.name])
        for piece in pieces:
            name = piece.name
            yield figure(part, f"a piece of {name}", "ms", worked[name], worked[label.name])


class _Disk:
    """A file that lines are written to, as a journal is, and nothing else is done."""

    def __init__(self, home: Path) -> None:
        self._file = os.open(home / "plain", os.O_WRONLY | os.O_CREAT | os.O_APPEND)
        self.taken: list[float] = []

    def save(self) -> None:
        """Write a line and wait until it is on the disk."""
        start = time.perf_counter()
        os.write(self._file, LINE)
        getattr(os, "fdatasync", os.fsync)(self._file)
        self.taken.append(1000 * (time.perf_counter() - start))


def _saves(home: Path, bands: list[tuple[int, int]], repeats: int) -> Iterator[Figure]:
    part = "to save a move, without the screen"
    disk = _Disk(home)
    taken: list[list[float]] = [[] for _ in bands]
    store = Store(home)
    with ExitStack() as stack:
        files = [home / f"band-{columns}-{rows}.pattern.toml" for columns, rows in bands]
        pieces = [stack.enter_context(take_up(str(file), store).piece) for file in files]
        for number in range(repeats):
            disk.save()
            for (_, rows), piece, times in zip(bands, pieces, taken, strict=True):
                moved = Moved(utc_now(), Position(rows // 2, number % 2))
                start = time.perf_counter()
                piece.record(moved)
                times.append(1000 * (time.perf_counter() - start))
    yield figure(part, "the disk alone: a line written and synced", "ms", disk.taken)
    for (columns, rows), times in zip(bands, taken, strict=True):
        what = f"a piece of {columns} x {rows:,} rows"
        yield figure(part, what, "ms", times[1:], disk.taken[1:])


def _at_rest(home: Path, pieces: list[Program], seconds: float) -> Iterator[Figure]:
    programs = [python("a blank app", BLANK), *pieces]
    with ExitStack() as stack:
        terminals = [stack.enter_context(Watched(home, *p.argv)) for p in programs]
        for program, terminal in zip(programs, terminals, strict=True):
            terminal.until(program.painted)
            terminal.settle()
        before = [(terminal.seconds, terminal.wakeups) for terminal in terminals]
        time.sleep(seconds)
        after = [(terminal.seconds, terminal.wakeups) for terminal in terminals]
        peaks = [terminal.peak for terminal in terminals]
    names = [p.name if i == 0 else f"a piece of {p.name}" for i, p in enumerate(programs)]
    spans = list(zip(names, before, after, strict=True))
    part = "wakeups while nothing is done"
    for name, (_, woken), (_, again) in spans:
        yield Figure(part=part, what=name, unit="a second", value=(again - woken) / seconds)
    part = "processor time while nothing is done"
    for name, (busy, _), (later, _) in spans:
        value = round(1000 * (later - busy) / seconds, 3)
        yield Figure(part=part, what=name, unit="ms a second", value=value)
    part = "memory at its peak"
    yield figure(part, names[0], "MB", peaks[:1])
    for name, peak in zip(names[1:], peaks[1:], strict=True):
        yield figure(part, name, "MB", [peak], peaks[:1], goal=1.5)
