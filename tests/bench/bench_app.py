"""How quick the screen is, against plain apps on the same machine in the same run.

    python tests/bench/bench_app.py

Each program runs on a pseudo-terminal. Times go from the start of the process, or from a key's
byte, to the byte that shows the answer. Milliseconds are of one machine; the ratios hold.
"""

import os
import select
import statistics
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

sys.path[:0] = [str(Path(__file__).parents[1] / "app"), str(Path(__file__).parents[2])]

from hands import design_text  # noqa: E402  the path is set first
from terminals import TRACKER, Terminal  # noqa: E402

from tracker.loading import compile_text  # noqa: E402
from tracker.progress.position import Position  # noqa: E402
from tracker.progress.state import Moved, utc_now  # noqa: E402
from tracker.progress.store import Store  # noqa: E402
from tracker.starting import take_up  # noqa: E402

STARTS = 9
KEYS = 120
STEPS = 3
"""Steps in a row of 2 columns."""

BLANK = """
from textual.app import App
class Blank(App):
    def compose(self):
        from textual.widgets import Label
        yield Label("place 0 ")
Blank().run(mouse=False)
"""
SAVING = """
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
        os.write(self.file, b"a line of about as many bytes as a journal's line has in it, more\\n")
        os.fdatasync(self.file)
        self.query_one(Label).update(f"place {self.count} ")
Saving().run(mouse=False)
"""


class Watched(Terminal):
    """A terminal that only looks for bytes: interpreting them would take longer than they do."""

    def look(self, seconds: float = 0.02) -> None:
        """Take in what there is."""
        if select.select([self._master], [], [], seconds)[0]:
            self.raw += os.read(self._master, 65536)

    def until(self, text: str) -> float:
        """Wait for a text; the milliseconds that it took."""
        start = time.perf_counter()
        while text.encode() not in self.raw:
            if time.perf_counter() - start > 30:
                raise TimeoutError(text)
            self.look()
        return 1000 * (time.perf_counter() - start)

    def key(self, key: str, answer: str) -> float:
        """Press a key; the milliseconds until the answer is there."""
        self.raw = b""
        self.type(key)
        return self.until(answer)


def first_frame(home: Path, argv: tuple[str, ...], text: str) -> float:
    """From the start of a process to its first painted text."""
    start = time.perf_counter()
    with Watched(home, *argv) as terminal:
        terminal.until(text)
        return 1000 * (time.perf_counter() - start)


def settled(home: Path, argv: tuple[str, ...], text: str) -> Watched:
    """A program that has painted, and has nothing left to do."""
    terminal = Watched(home, *argv)
    terminal.until(text)
    while select.select([terminal._master], [], [], 0.5)[0]:
        terminal.look()
    return terminal


def keys_of_labels(home: Path) -> list[float]:
    """A label that is changed once a line is on the disk."""
    with settled(home, (sys.executable, "-c", SAVING), "place 0 ") as terminal:
        return [terminal.key(" ", f"place {n} ") for n in range(1, KEYS + 1)]


def keys_of_tracker(home: Path, piece: str, row: int) -> list[float]:
    """Steps of a piece, from the start of a row (from 0)."""
    with settled(home, (*TRACKER, "open", piece), f"ROW {row + 1} of") as terminal:
        answers = (f"STEP {n % STEPS + 1} of" for n in range(1, KEYS + 1))
        return [terminal.key(" ", answer) for answer in answers]


def pieces(home: Path) -> Iterator[tuple[int, str]]:
    """Pieces of 100 and 5,000 rows, in their middle."""
    store = Store(home)
    for rows in (100, 5000):
        file = home / f"band-{rows}.pattern.toml"
        file.write_text(compile_text(design_text(2, rows, name=f"Band {rows}")).text, "utf-8")
        with take_up(str(file), store).piece as piece:
            piece.record(Moved(utc_now(), Position(rows // 2, 0)))
        yield rows, str(file)


def report(what: str, times: list[float], base: list[float]) -> None:
    """A line of the table."""
    middle, plain = statistics.median(times), statistics.median(base)
    slow = statistics.quantiles(times, n=20)[-1]
    print(f"{what:<44} {middle:8.1f} {slow:8.1f} {middle / plain:8.2f}")


def main() -> None:
    """Measure and print."""
    print(f"{'milliseconds':<44} {'median':>8} {'p95':>8} {'ratio':>8}")
    with tempfile.TemporaryDirectory() as folder:
        home = Path(folder)
        bands = dict(pieces(home))
        blank, opened, longest = [], [], []
        for _ in range(STARTS):  # in turn, so that whatever else the machine does hits all alike
            blank.append(first_frame(home, (sys.executable, "-c", BLANK), "place 0 "))
            opened.append(first_frame(home, (*TRACKER, "open", bands[100]), "ROW 51 of"))
            longest.append(first_frame(home, (*TRACKER, "open", bands[5000]), "ROW 2501 of"))
        report("first frame, a blank app", blank, blank)
        report("first frame, a piece of 100 rows", opened, blank)
        report("first frame, a piece of 5,000 rows", longest, blank)
        labels = keys_of_labels(home)
        short = keys_of_tracker(home, bands[100], 50)
        long = keys_of_tracker(home, bands[5000], 2500)
        report("key to saved and painted, a label", labels, labels)
        report("key to saved and painted, 100 rows", short, labels)
        report("key to saved and painted, 5,000 rows", long, labels)
        report("  5,000 rows against 100", long, short)


if __name__ == "__main__":
    main()
