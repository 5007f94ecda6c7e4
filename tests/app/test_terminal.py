"""The program on a real pseudo-terminal: how it dies, stops, is resized, and what it leaves."""

import random
import signal
import subprocess
from pathlib import Path

import pytest
from hands import design_file, design_text, place_on_disk
from terminals import TRACKER, Terminal, environment

from tracker.loading import load
from tracker.progress.opened import open_piece
from tracker.progress.position import Position
from tracker.progress.store import Store

pytestmark = pytest.mark.terminal

ROWS, STEPS = 60, 3
BURST = 30
"""Presses sent at once."""
STRAY = (
    "\x1b[57441u\x1b[57442u",  # Shift and Control by themselves, as newer terminals tell them
    "\x1b[<0;10;10M\x1b[<0;10;10m",  # a mouse
    "\x1b[200~qgr  \x1b[201~",  # something pasted
    "\x1b[I\x1b[O\x1b[I",  # the window in front, and behind
    "\x1b[15~\x1b[24~\x1b[A\x1b[B",  # function keys, arrows up and down
    "\x1b[?2026;2$y\x1b[?2048;0$y",  # answers about what it can do
    "\x00\x1c\x7e",  # bytes of no key
)


@pytest.fixture
def design(tmp_path: Path) -> str:
    """A band of 2 columns: 3 steps a row."""
    return design_file(tmp_path, design_text(2, ROWS)).name


def opened(home: Path, design: str, size: tuple[int, int] = (80, 24)) -> Terminal:
    """The program with the design's piece in hand."""
    return Terminal(home, *TRACKER, "open", design, size=size)


def nth(moves: int) -> tuple[int, int]:
    """Row and step, from 1, after so many moves from the start."""
    return moves // STEPS + 1, moves % STEPS + 1


def require_whole(home: Path) -> int:
    """See that the only piece can be gone on with at once; how many moves it stands at."""
    (listed,) = Store(home).pieces()
    assert listed.folder is not None
    pattern = load(listed.path.name, Store(home)).pattern
    with open_piece(listed.folder, pattern) as piece:
        assert not piece.read_only
        return piece.progress.position.row * STEPS + piece.progress.position.step


@pytest.mark.parametrize("leave", ["q", "\x03", "\x11", "TERM", "HUP", "INT"])
def test_every_way_out_leaves_the_terminal_as_it_was(
    tmp_path: Path, design: str, leave: str
) -> None:
    """Keys and signals alike: status 0, modes and cursor back, screen left, the place kept."""
    with opened(tmp_path, design) as terminal:
        terminal.wait_for_place(1, 1)
        terminal.type("  ")
        terminal.wait_for_place(1, 3)
        assert not terminal.as_found
        if len(leave) == 1:
            terminal.type(leave)
        else:
            terminal.process.send_signal(getattr(signal, f"SIG{leave}"))
        assert 0 == terminal.wait_for_end()
        assert terminal.as_found
        assert terminal.ended(b"\x1b[?2004h", b"\x1b[?2004l")
        assert b"Traceback" not in terminal.raw
    assert 2 == require_whole(tmp_path)


def test_a_closed_window_ends_the_program(tmp_path: Path, design: str) -> None:
    """When the terminal goes away the program goes too, and the place is kept."""
    with opened(tmp_path, design) as terminal:
        terminal.wait_for_place(1, 1)
        terminal.type(" ")
        terminal.wait_for_place(1, 2)
        terminal.hang_up()
        terminal.wait_for_end()
    assert 1 == require_whole(tmp_path)


def test_killed_between_presses_it_comes_back_to_the_place_shown(
    tmp_path: Path, design: str
) -> None:
    """Whatever had been shown is on the disk, each time."""
    moves = 0
    for presses in (1, 4, 2):
        with opened(tmp_path, design) as terminal:
            terminal.wait_for_place(*nth(moves))
            for _ in range(presses):
                moves += 1
                terminal.type(" ")
                terminal.wait_for_place(*nth(moves))
            terminal.process.kill()
            assert -signal.SIGKILL == terminal.wait_for_end()
        assert moves == require_whole(tmp_path)


def test_killed_while_it_writes_it_comes_back_to_a_place_it_was_at(
    tmp_path: Path, design: str
) -> None:
    """At any instant: not before what was shown last, not after what was pressed."""
    chance = random.Random(20261125)  # noqa: S311  no secret
    moves = 0
    for _ in range(5):
        with opened(tmp_path, design) as terminal:
            terminal.wait_for_place(*nth(moves))
            terminal.type(" " * BURST)
            for _ in range(chance.randrange(12)):
                terminal.look(chance.random() / 50)
            terminal.process.kill()
            terminal.wait_for_end()
            assert terminal.place is not None
            row, step = terminal.place
            shown = (row - 1) * STEPS + step - 1
        stands = require_whole(tmp_path)
        assert moves <= shown <= stands <= moves + BURST
        moves = stands
    assert moves > 0


def test_a_resized_terminal_keeps_the_place(tmp_path: Path, design: str) -> None:
    """The window grows and shrinks, and the screen follows, keys at its foot."""
    with opened(tmp_path, design) as terminal:
        terminal.wait_for_place(1, 1)
        terminal.type("g")
        terminal.wait_for("Go to the start of which row?")
        terminal.type("7\r")
        terminal.wait_for_place(7, 1)
        terminal.type(" ")
        terminal.wait_for_place(7, 2)
        for size in ((120, 40), (60, 18), (80, 24)):
            terminal.resize(*size)
            terminal.wait_until(lambda: "q quit" in terminal.lines[-1], f"the foot at {size}")
            terminal.wait_for_place(7, 2)
        terminal.type(" ")
        terminal.wait_for_place(7, 3)


def test_stopped_and_brought_back_it_paints_its_screen(tmp_path: Path, design: str) -> None:
    """Ctrl+Z gives the terminal back to the shell as it was; fg shows the place again."""
    prompt = "ready> "
    with Terminal(tmp_path, "env", f"PS1={prompt}", "sh", "-i") as terminal:

        def wait_for_prompt(number: int) -> None:
            # What is typed before the shell has the terminal again would be lost.
            seen = prompt.encode()
            terminal.wait_until(lambda: terminal.raw.count(seen) >= number, f"prompt {number}")

        wait_for_prompt(1)
        terminal.before = terminal.modes  # a shell may have its own at its prompt
        terminal.type(f"{' '.join(TRACKER)} open {design}\n")
        terminal.wait_for_place(1, 1)
        terminal.type(" ")
        terminal.wait_for_place(1, 2)
        terminal.type("\x1a")
        wait_for_prompt(2)
        assert terminal.as_found
        terminal.type("clear; echo stop''ped\n")
        terminal.wait_for("stopped")
        assert terminal.place is None
        assert Position(0, 1) == place_on_disk(tmp_path)
        terminal.type("fg\n")
        terminal.wait_for_place(1, 2)
        terminal.type(" ")
        terminal.wait_for_place(1, 3)
        terminal.type("q")
        wait_for_prompt(4)
        assert terminal.as_found
        terminal.type("echo status $?; exit\n")
        terminal.wait_for("status 0")
        terminal.wait_for_end()
    assert 2 == require_whole(tmp_path)


def test_stray_reports_do_nothing(tmp_path: Path, design: str) -> None:
    """What a terminal may send beside keys neither moves the place nor ends the program."""
    with opened(tmp_path, design) as terminal:
        terminal.wait_for_place(1, 1)
        for moves, stray in enumerate(STRAY, start=1):
            terminal.type(stray)
            terminal.type(" ")
            terminal.wait_for_place(*nth(moves))
        terminal.type("q")
        assert 0 == terminal.wait_for_end()
    assert len(STRAY) == require_whole(tmp_path)


def test_what_it_prints_can_be_sent_elsewhere(tmp_path: Path, design: str) -> None:
    """The screen is painted on standard error: standard output stays free and empty."""
    with Terminal(tmp_path, "sh", "-c", f"{' '.join(TRACKER)} open {design} > out") as terminal:
        terminal.wait_for_place(1, 1)
        terminal.type("q")
        assert 0 == terminal.wait_for_end()
    assert b"" == (tmp_path / "out").read_bytes()


def test_a_dumb_terminal_is_refused_with_a_hint(tmp_path: Path, design: str) -> None:
    """TERM=dumb: one line that says what to do instead, status 1, and no piece begun."""
    with Terminal(
        tmp_path, "env", "TERM=dumb", *TRACKER, "open", design, size=(200, 24)
    ) as terminal:
        assert 1 == terminal.wait_for_end()
        assert "tracker: terminal: the tracker needs a full screen" in terminal.text
        assert "`tracker read PIECE`" in terminal.text
    assert [] == Store(tmp_path).pieces()


@pytest.mark.parametrize("argv", [[], ["open", "harbour.design.toml"]])
@pytest.mark.usefixtures("design")
def test_without_a_terminal_it_is_refused_with_a_hint(tmp_path: Path, argv: list[str]) -> None:
    """In a pipe, too, the bench and a piece alike: nothing on standard output."""
    done = subprocess.run(
        [*TRACKER, *argv],
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        cwd=tmp_path,
        env=environment(tmp_path),
        timeout=30,
        check=False,
    )

    assert (1, "") == (done.returncode, done.stdout)
    assert done.stderr.startswith("tracker: terminal: the tracker needs a full screen")
    assert 1 == done.stderr.count("\n")
    assert not (tmp_path / "pieces").exists()
