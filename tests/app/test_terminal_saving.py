"""On a real pseudo-terminal, with a real limit on what may be written: told on the way out."""

import resource
import signal
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from hands import design_file, design_text, place_on_disk
from terminals import TRACKER, Terminal

from tracker.progress.position import Position
from tracker.progress.store import Store
from tracker.starting import take_up

pytestmark = pytest.mark.terminal

LIMIT = 1000
"""Bytes that a file may have; the journal gets there after some ten moves."""
# Without -B compiled modules would be cut off at the limit too, and stay so.
LIMITED = (
    "import os, resource, sys; "
    f"resource.setrlimit(resource.RLIMIT_FSIZE, ({LIMIT}, resource.RLIM_INFINITY)); "
    "os.execv(sys.executable, [sys.executable, '-B', *sys.argv[1:]])"
)


@pytest.fixture
def terminal(tmp_path: Path) -> Iterator[Terminal]:
    """A piece of 3 steps a row that was started while there was room, and 30 presses of Space."""
    design = design_file(tmp_path, design_text(2, 60)).name
    take_up(str(tmp_path / design), Store(tmp_path)).piece.close()
    words = sys.executable, "-B", "-c", LIMITED, *TRACKER[1:], "open", design
    with Terminal(tmp_path, *words) as terminal:
        terminal.wait_for_place(1, 1)
        terminal.type(" " * 30)
        terminal.wait_for_place(11, 1)
        terminal.wait_for("NOT SAVED: ")
        yield terminal


def told_at_the_end(home: Path, terminal: Terminal, presses: int) -> int:
    """See that the terminal is as it was and tells what was lost; how many moves that is."""
    assert 1 == terminal.wait_for_end()
    place = place_on_disk(home)
    moves = presses - place.row * 3 - place.step
    told = terminal.raw.rpartition(b"\x1b[?1049l")[2].decode()
    assert f"tracker: Harbour lights: {moves} moves were NOT SAVED" in told
    assert f"on the disk the piece stands at row {place.row + 1}, step {place.step + 1}" in told
    assert terminal.as_found
    assert b"Traceback" not in terminal.raw
    return moves


def test_what_is_lost_is_told_when_the_screen_is_gone(tmp_path: Path, terminal: Terminal) -> None:
    """The question is answered with its last answer: status 1, and what was lost is told."""
    terminal.type("q")
    terminal.wait_for("Quit without these")
    terminal.type("\x1b[F\r")
    assert 10 < told_at_the_end(tmp_path, terminal, 30) < 30


@pytest.mark.skipif(not hasattr(resource, "prlimit"), reason="no limit can be lifted from outside")
def test_the_limit_is_lifted_and_comes_back(tmp_path: Path, terminal: Terminal) -> None:
    """With the next key all is saved, in the running program; a signal later only the rest not."""
    journal = tmp_path / "pieces" / "harbour-lights" / "journal.toml"
    assert journal.stat().st_size <= LIMIT
    process = terminal.process.pid
    endless = resource.RLIM_INFINITY
    resource.prlimit(process, resource.RLIMIT_FSIZE, (endless, endless))
    terminal.type(" ")
    terminal.wait_for("Saved again")
    assert "NOT SAVED" not in terminal.text
    assert Position(10, 1) == place_on_disk(tmp_path)
    resource.prlimit(process, resource.RLIMIT_FSIZE, (LIMIT, endless))
    terminal.type("  ")
    terminal.wait_for("NOT SAVED: 2 moves")
    terminal.process.send_signal(signal.SIGTERM)
    assert 2 == told_at_the_end(tmp_path, terminal, 33)
