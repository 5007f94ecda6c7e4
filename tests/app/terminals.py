"""A real pseudo-terminal with the program on it, and eyes to read its screen."""

import fcntl
import os
import re
import select
import struct
import subprocess
import sys
import termios
import time
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import Self

import pyte
from pyte.screens import Char

ROOT = Path(__file__).parents[2]
PATIENCE = 60.0
"""Seconds after which something that was waited for will not come."""
TRACKER = (sys.executable, "-m", "tracker")

# The session leader takes the terminal for its own, so that keys can become signals.
_LAUNCH = (
    "import fcntl, os, sys, termios; fcntl.ioctl(0, termios.TIOCSCTTY, 0); "
    "os.execvp(sys.argv[1], sys.argv[1:])"
)
# What the screen's interpreter does not know: questions to the terminal, keyboard protocols,
# graphics.
NOT_KNOWN = re.compile(rb"\x1b\[[<>=][0-9;]*[a-z]|\x1b\[\?[0-9;]*\$p|\x1b[_P][^\x1b]*\x1b\\")
_UNFINISHED = re.compile(rb"\x1b(\[[0-9;?<>=$]*|[_P][^\x1b]*\x1b?)?\Z")


class Terminal:
    """A terminal with one program on it. It answers no questions but those that it is told to.

    `cell` is the size of a cell in pixels, if the terminal tells it; `answers` says what comes
    back for what was asked; `more` are variables of the environment.
    """

    def __init__(
        self,
        home: Path,
        *argv: str,
        size: tuple[int, int] = (80, 24),
        cell: tuple[int, int] = (0, 0),
        answers: Mapping[bytes, bytes] | None = None,
        more: Mapping[str, str] | None = None,
    ) -> None:
        self.raw = b""
        self._cell = cell
        self._answers = dict(answers or {})
        """Each question is answered once."""
        self._unread = b""
        self._screen = pyte.Screen(*size)
        self._stream = pyte.ByteStream(self._screen)
        self._master, self._slave = os.openpty()
        self.resize(*size)
        self.before = self.modes
        self.process = subprocess.Popen(
            [sys.executable, "-c", _LAUNCH, *argv],
            stdin=self._slave,
            stdout=self._slave,
            stderr=self._slave,
            start_new_session=True,
            cwd=home,
            env=environment(home, **(more or {})),
        )

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        if self.process.poll() is None:
            self.process.kill()
        self.process.wait(PATIENCE)
        self.hang_up()

    def hang_up(self) -> None:
        """Take the terminal away, as a closed window does."""
        for fd in (self._master, self._slave):
            if fd >= 0:
                os.close(fd)
        self._master = self._slave = -1

    def resize(self, width: int, height: int) -> None:
        """Change the size; the system tells the program."""
        self._screen.resize(height, width)
        wide, high = self._cell
        packed = struct.pack("HHHH", height, width, width * wide, height * high)
        fcntl.ioctl(self._master, termios.TIOCSWINSZ, packed)

    def type(self, keys: str) -> None:
        """Send what keys send."""
        self.send(keys.encode())

    def send(self, data: bytes) -> None:
        """Send bytes as they are, taking in what is painted meanwhile."""
        while data:
            if select.select([], [self._master], [], 0.02)[1]:
                # A terminal's own buffer is small: more at once would wait for it to be read.
                data = data[os.write(self._master, data[:256]) :]
            self.look(0.0)

    def look(self, seconds: float = 0.02) -> None:
        """Take in what the program paints, waiting so long for more at most."""
        while self._master >= 0 and select.select([self._master], [], [], seconds)[0]:
            try:
                data = os.read(self._master, 65536)
            except OSError:
                return
            self.raw += data
            self._answer()
            data = self._unread + data
            cut = _UNFINISHED.search(data)
            end = cut.start() if cut else len(data)
            self._unread = data[end:]
            self._stream.feed(NOT_KNOWN.sub(b"", data[:end]))
            seconds = 0.0

    def _answer(self) -> None:
        for question in [asked for asked in self._answers if asked in self.raw]:
            os.write(self._master, self._answers.pop(question))

    def wait_until(self, seen: Callable[[], bool], what: str = "") -> None:
        """Look until something is seen."""
        deadline = time.monotonic() + PATIENCE
        while not seen():
            if time.monotonic() > deadline:
                raise AssertionError(f"never seen: {what}\n{self.text}")
            self.look()

    def wait_for(self, text: str) -> None:
        """Look until a text is on the screen."""
        self.wait_until(lambda: text in self.text, text)

    def wait_for_place(self, row: int, step: int) -> None:
        """Look until the line at the top names a place, counted from 1."""
        self.wait_until(lambda: (row, step) == self.place, f"row {row} step {step}")

    def wait_for_end(self) -> int:
        """Look until the program has ended; its exit status, negative for a signal."""
        self.wait_until(lambda: self.process.poll() is not None, "the end of the program")
        self.look()
        status = self.process.poll()
        assert status is not None
        return status

    @property
    def lines(self) -> list[str]:
        """The screen."""
        return list(self._screen.display)

    def cells(self) -> Iterator[Char]:
        """The characters of the screen with their colours, line by line."""
        for y in range(self._screen.lines):
            line = self._screen.buffer[y]
            yield from (line[x] for x in range(self._screen.columns))

    @property
    def text(self) -> str:
        """The screen, line by line."""
        return "\n".join(self.lines)

    @property
    def place(self) -> tuple[int, int] | None:
        """Row and step shown, None if there are none."""
        found = re.search(r"ROW (\d+) .*STEP (\d+) ", self.lines[0])
        return (int(found[1]), int(found[2])) if found else None

    @property
    def as_found(self) -> bool:
        """Whether modes, screen and cursor are again as the program found them."""
        return (
            self.modes == self.before
            and self.ended(b"\x1b[?1049h", b"\x1b[?1049l")
            and self.ended(b"\x1b[?25l", b"\x1b[?25h")
            and self.ended(b"\x1b[>", b"\x1b[<u")
        )

    @property
    def modes(self) -> list[object]:
        """How the terminal treats what is typed and printed."""
        return termios.tcgetattr(self._slave)

    def ended(self, before: bytes, after: bytes) -> bool:
        """Whether something was begun by one sequence, and ended by the other since."""
        return self.raw.rfind(after) > self.raw.rfind(before) >= 0


def environment(home: Path, **more: str) -> dict[str, str]:
    """The variables of a plain terminal, pieces in `home`."""
    kept = {name: os.environ[name] for name in ("PATH", "HOME", "LANG") if name in os.environ}
    return {
        **kept,
        "TERM": "xterm-256color",
        "PYTHONPATH": str(ROOT),
        "TRACKER_HOME": str(home),
        "TRACKER_BOUNCE_MS": "0",
        "LC_ALL": "C.UTF-8",
        **more,
    }
