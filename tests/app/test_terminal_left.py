"""A real terminal is left as it was found, or not taken at all, whatever its kind."""

import os
import select
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from hands import design_file, design_text
from terminals import PATIENCE, TRACKER, Terminal, environment
from test_terminal import require_whole

from tracker.progress.store import Store

pytestmark = pytest.mark.terminal

# As xterm and others name them: the other screen, focus reports, pasting in brackets, lines that
# wrap, the cursor, and the keyboard protocol that newer terminals have.
TAKEN = {
    b"\x1b[?1049h": b"\x1b[?1049l",
    b"\x1b[?1004h": b"\x1b[?1004l",
    b"\x1b[?2004h": b"\x1b[?2004l",
    b"\x1b[?7l": b"\x1b[?7h",
    b"\x1b[?25l": b"\x1b[?25h",
    b"\x1b[>25u": b"\x1b[<u",
}
NEVER_TAKEN = [
    b"\x1b[?%dh" % mode for mode in (9, 1000, 1001, 1002, 1003, 1005, 1006, 1015, 1016, 2048)
]
MUCH = 500_000
"""Bytes, many times of what a few frames take."""
CRASH = """
import sys
from tracker import cli
from tracker.session import Session

def forward(self):
    raise RuntimeError("a defect of ours")

Session.forward = forward
sys.exit(cli.main(sys.argv[1:]))
"""


def require_left(terminal: Terminal) -> None:
    """See that whatever was switched on is off again, and the modes are as before."""
    assert terminal.before == terminal.modes
    assert [] == [begin for begin, end in TAKEN.items() if not terminal.ended(begin, end)]
    assert [] == [mode for mode in NEVER_TAKEN if mode in terminal.raw]


def opened_on(terminal: int, folder: Path, design: str) -> subprocess.Popen[bytes]:
    """The tracker in a session of its own with no terminal of its own: nothing sends it SIGHUP."""
    return subprocess.Popen(
        [*TRACKER, "open", design],
        stdin=terminal,
        stdout=terminal,
        stderr=terminal,
        start_new_session=True,
        cwd=folder,
        env=environment(folder),
    )


@pytest.fixture
def design(tmp_path: Path) -> str:
    """A band of 2 columns."""
    return design_file(tmp_path, design_text(2, 60)).name


@pytest.mark.parametrize(
    ("command", "leave"), [("bench", "q"), ("bench", "HUP"), ("keys", "\x11"), ("keys", "TERM")]
)
def test_bench_and_keys_are_left(tmp_path: Path, command: str, leave: str) -> None:
    """By keys and by signals, with status 0, as the piece is (`test_terminal`)."""
    argv = ["keys"] if command == "keys" else []
    with Terminal(tmp_path, *TRACKER, *argv) as terminal:
        terminal.wait_for("Press a key" if command == "keys" else "bench")
        if len(leave) > 1:
            terminal.process.send_signal(getattr(signal, f"SIG{leave}"))
        else:
            terminal.type(leave)
        assert 0 == terminal.wait_for_end()
        require_left(terminal)
        assert b"Traceback" not in terminal.raw


def test_ended_while_it_begins(tmp_path: Path, design: str) -> None:
    """At any moment after the screen was taken, the first included."""
    for after in (0, 5, 20):
        with Terminal(tmp_path, *TRACKER, "open", design) as terminal:
            terminal.wait_until(lambda t=terminal: b"\x1b[?1049h" in t.raw, "the screen")
            terminal.look(after / 1000)
            terminal.process.send_signal(signal.SIGTERM)
            assert 0 == terminal.wait_for_end(), after
            assert terminal.before == terminal.modes, after
            assert terminal.ended(b"\x1b[?1049h", b"\x1b[?1049l"), after


def test_a_defect_of_ours_leaves_the_terminal_too(tmp_path: Path, design: str) -> None:
    """Status 1, the screen given back, and only then what went wrong."""
    with Terminal(tmp_path, sys.executable, "-c", CRASH, "open", design) as terminal:
        terminal.wait_for_place(1, 1)
        terminal.type(" ")
        assert 1 == terminal.wait_for_end()
        require_left(terminal)
        assert terminal.raw.find(b"a defect of ours") > terminal.raw.rfind(b"\x1b[?1049l")


def test_a_terminal_that_tells_no_size(tmp_path: Path, design: str) -> None:
    """Two sizes are guessed as it begins; it is painted in one of them, and then left in peace."""
    ours, theirs = os.openpty()
    with opened_on(theirs, tmp_path, design) as process:
        try:
            seen = b""
            while b"ROW" not in seen or (len(seen) < MUCH and select.select([ours], [], [], 1)[0]):
                seen += os.read(ours, 65536)
            assert len(seen) < MUCH
            os.write(ours, b"q")
            assert 0 == process.wait(PATIENCE)
        finally:
            process.kill()
            os.close(theirs)
            os.close(ours)
    assert 0 == require_whole(tmp_path)


def test_stopped_from_outside_and_gone_on_with(tmp_path: Path, design: str) -> None:
    """SIGTSTP gives the terminal back; SIGCONT takes it again, and paints."""
    with Terminal(tmp_path, *TRACKER, "open", design) as terminal:
        for step in (1, 2):
            terminal.wait_for_place(1, step)
            terminal.process.send_signal(signal.SIGTSTP)
            terminal.wait_until(
                lambda: os.waitpid(terminal.process.pid, os.WNOHANG | os.WUNTRACED)[0] != 0,
                "a stop",
            )
            terminal.look()
            require_left(terminal)
            terminal.process.send_signal(signal.SIGCONT)
            terminal.wait_until(lambda: not terminal.ended(b"\x1b[?1049h", b"\x1b[?1049l"), "it")
            terminal.type(" ")
        terminal.wait_for_place(1, 3)
        terminal.type("q")
        assert 0 == terminal.wait_for_end()
        require_left(terminal)


@pytest.mark.parametrize("kind", ["TERM=tmux-256color", "TERM=linux", "TERM=vt100", "-uTERM"])
def test_terminals_of_every_kind(tmp_path: Path, design: str, kind: str) -> None:
    """Known by name or not, the place is shown, keys are keys, and it is left as it was."""
    with Terminal(tmp_path, "env", kind, *TRACKER, "open", design) as terminal:
        terminal.wait_for_place(1, 1)
        terminal.type(" ")
        terminal.wait_for_place(1, 2)
        terminal.type("\x1bOC\x1b[C")  # Right, in both of its usual forms
        terminal.wait_for_place(2, 1)
        terminal.type("q")
        assert 0 == terminal.wait_for_end()
        require_left(terminal)


def test_streams_that_are_no_terminal(tmp_path: Path, design: str) -> None:
    """Keys are read from standard input and the screen is on standard error: both are needed."""
    for way in (
        ("", ">out", ""), ("", ">&-", ""), ("</dev/null", "", ""), ("<&-", "", ""),
        ("", "", "2>err"), ("", "", "2>&-"), ("</dev/null", ">out", "2>err"),
    ):  # fmt: skip
        (tmp_path / "out").write_text("")
        (tmp_path / "err").write_text("")
        line = f"{' '.join(TRACKER)} open {design} {' '.join(way)}"
        with Terminal(tmp_path, "sh", "-c", line, size=(200, 30)) as terminal:
            if (way[0], way[2]) == ("", ""):
                terminal.wait_for_place(1, 1)
                terminal.resize(100, 40)
                terminal.wait_until(lambda t=terminal: "q quit" in t.lines[-1], f"the foot, {way}")
                terminal.type("q")
                assert 0 == terminal.wait_for_end(), way
                require_left(terminal)
            else:
                assert 1 == terminal.wait_for_end(), way
                said = (tmp_path / "err").read_text() if way[2] == "2>err" else terminal.text
                assert (way[2] != "2>&-") == ("`tracker read PIECE`" in said), way
                assert b"\x1b" not in terminal.raw, way
        assert "" == (tmp_path / "out").read_text(), way


def test_commands_with_closed_streams(tmp_path: Path, design: str) -> None:
    """Nothing to read from or to write to is no reason for a traceback."""
    for close in (">&-", "<&- >&- 2>&-"):
        for command, status in (("left nothing", 1), (f"read {design}", 0)):
            done = subprocess.run(
                ["sh", "-c", f"{' '.join(TRACKER)} {command} {close}"],
                stdin=subprocess.DEVNULL,
                capture_output=True,
                text=True,
                cwd=tmp_path,
                env=environment(tmp_path),
                timeout=60,
                check=False,
            )
            assert status == done.returncode, (command, close, done.stderr)
            assert "Traceback" not in done.stderr, (command, close)
    assert 1 == len(Store(tmp_path).pieces())


def test_a_terminal_that_vanishes_without_a_word(tmp_path: Path, design: str) -> None:
    """Where no signal tells of it, the end of the input does: nothing is left running."""
    ours, theirs = os.openpty()
    with opened_on(theirs, tmp_path, design) as process:
        os.close(theirs)
        seen = b""
        while b"ROW" not in seen:
            seen += os.read(ours, 65536)
        os.close(ours)
        try:
            assert 0 == process.wait(PATIENCE)
        finally:
            process.kill()
    assert 0 == require_whole(tmp_path)
