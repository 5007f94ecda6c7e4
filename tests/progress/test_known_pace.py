"""The pace that is known from the pieces in hand."""

from datetime import timedelta
from pathlib import Path

import pytest
from outlines import NOON

from tracker.progress.known_pace import seconds_a_step
from tracker.progress.position import Position
from tracker.progress.state import Moved
from tracker.progress.store import Store
from tracker.starting import take_up

PATTERN = Path(__file__).parents[2] / "patterns" / "night-watch.pattern.toml"


def test_no_pace_without_pieces(tmp_path: Path) -> None:
    """Nothing was timed, nothing is known; a broken folder is no reason to fail."""
    assert seconds_a_step(Store(tmp_path)) is None
    take_up(str(PATTERN), Store(tmp_path)).piece.close()
    assert seconds_a_step(Store(tmp_path)) is None
    (tmp_path / "pieces" / "night-watch" / "pattern.toml").write_text("no pattern")
    assert seconds_a_step(Store(tmp_path)) is None


def test_the_pace_is_that_of_the_rows(tmp_path: Path) -> None:
    """Rows of three steps of 20 s each: a step takes 20 s."""
    with take_up(str(PATTERN), Store(tmp_path)).piece as piece:
        at = NOON
        for row in range(6):
            for step in range(piece.outline.steps_in(row)):
                piece.record(Moved(at, Position(row, step)))
                at += timedelta(seconds=20)
    assert 3 == piece.outline.steps_in(5)
    assert pytest.approx(20, rel=0.02) == seconds_a_step(Store(tmp_path))
