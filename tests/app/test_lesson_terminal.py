"""The lesson on a real pseudo-terminal: offered, killed, gone on with by its command."""

import signal
from pathlib import Path

import pytest
from hands import design_file, design_text
from terminals import TRACKER, Terminal

from tracker.lesson.keeping import Lesson
from tracker.progress.store import Store

pytestmark = pytest.mark.terminal


def test_a_kill_loses_nothing_of_it(tmp_path: Path) -> None:
    """From the offer into the second task; killed there, `tracker learn` shows that task again."""
    design_file(tmp_path, design_text())
    with Terminal(tmp_path, *TRACKER) as terminal:
        terminal.wait_for("New here? l: a lesson")
        terminal.type("l")
        terminal.wait_for("LESSON 1 of")
        terminal.type(" ")
        terminal.wait_for("LESSON 2 of")
        terminal.process.send_signal(signal.SIGKILL)
        terminal.wait_for_end()
    assert "back" == Lesson(tmp_path).task().id
    with Terminal(tmp_path, *TRACKER, "learn") as terminal:
        terminal.wait_for("LESSON 2 of")
        terminal.wait_for_place(1, 2)
        terminal.type("q")
        terminal.wait_for("The bench")
        terminal.type("q")
        assert 0 == terminal.wait_for_end()
        assert terminal.as_found
    assert [] == Store(tmp_path).pieces()
