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


@pytest.mark.parametrize("leave", ["q", "TERM"])
def test_what_is_lost_is_told_when_the_screen_is_gone(
    tmp_path: Path, terminal: Terminal, leave: str
) -> None:
    """The terminal is as it was, the status is 1, and what was not saved stands on it."""
    if leave == "q":
        terminal.type("q")
        terminal.wait_for("Quit without these")
        terminal.type("\x1b[F\r")
    else:
        terminal.process.send_signal(signal.SIGTERM)
    assert 1 == terminal.wait_for_end()
    place = place_on_disk(tmp_path)
    moves = 30 - place.row * 3 - place.step
    assert 10 < moves < 30
    told = terminal.raw.rpartition(b"\x1b[?1049l")[2].decode()
    assert f"tracker: Harbour lights: {moves} moves were NOT SAVED" in told
    assert f"on the disk the piece stands at row {place.row + 1}, step {place.step + 1}" in told
    assert terminal.as_found
    assert b"Traceback" not in terminal.raw


@pytest.mark.skipif(not hasattr(resource, "prlimit"), reason="no limit can be lifted from outside")
def test_the_limit_is_lifted(tmp_path: Path, terminal: Terminal) -> None:
    """With the next key all is saved, in the running program, and leaving is as ever."""
    journal = tmp_path / "pieces" / "harbour-lights" / "journal.toml"
    assert journal.stat().st_size <= LIMIT
    free = (resource.RLIM_INFINITY, resource.RLIM_INFINITY)
    resource.prlimit(terminal.process.pid, resource.RLIMIT_FSIZE, free)
    terminal.type(" ")
    terminal.wait_for("Saved again")
    assert "NOT SAVED" not in terminal.text
    terminal.type("q")
    assert 0 == terminal.wait_for_end()
    assert Position(10, 1) == place_on_disk(tmp_path)
