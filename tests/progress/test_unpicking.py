"""Taking work out: the exact way back, and the same path when it is stitched again."""

from __future__ import annotations

from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from tracker.path.model import Pass
from tracker.pattern.reader import read_pattern
from tracker.progress.position import START, Position, back, end, forward
from tracker.progress.unpicking import undo_words, unpick

PATTERN = read_pattern(Path(__file__).parents[2] / "patterns" / "night-watch.pattern.toml")
PLACES = [Position(r, s) for r in range(12) for s in range(PATTERN.steps_in(r))]


def passes_between(start: Position, goal: Position) -> list[Pass]:
    """The passes of the steps from `start` up to `goal`, in order."""
    passes: list[Pass] = []
    while start < goal:
        passes += PATTERN.row(start.row).steps[start.step].passes
        start = forward(PATTERN, start, "step")
    return passes


@given(st.sampled_from(PLACES), st.sampled_from(PLACES))
def test_unpicked_and_stitched_again_the_path_is_the_same(one: Position, other: Position) -> None:
    """From any place back to any earlier one and forward again: the identical passes."""
    goal, start = sorted((one, other))
    undone = list(unpick(PATTERN, start, goal))
    taken_out: list[Pass] = []
    for undoing in undone:
        step = PATTERN.row(undoing.position.row).steps[undoing.position.step]
        taken_out += reversed(step.passes)
    assert (undone[-1].position if undone else start) == goal
    assert passes_between(goal, start) == taken_out[::-1]


def test_the_words_go_against_the_needle() -> None:
    """Row 3, step 1 of a two-column band, written out by hand."""
    expected = (
        "pull the needle back out of hole b of the lamplight tile; "
        "pull the needle back out of the lone seed; "
        "take off 1 lamplight tile and 1 pewter seed"
    )
    assert expected == undo_words(PATTERN, Position(2, 0))


def test_a_turn_gives_back_its_seeds() -> None:
    """The turn of row 3: out of hole b, and the two seeds off."""
    expected = "pull the needle back out of hole b of the midnight tile; take off 2 pewter seeds"
    assert expected == undo_words(PATTERN, Position(2, 2))


def test_the_return_is_drawn_out_of_the_whole_group() -> None:
    """Row 2, step 2: three seeds of the group at once."""
    expected = (
        "pull the needle back out of the 3 seeds of the group; "
        "take off 1 midnight tile and 1 pewter seed"
    )
    assert expected == undo_words(PATTERN, Position(1, 1))


def test_all_of_it_can_be_taken_out() -> None:
    """From the end to the start every step is taken back once."""
    last = end(PATTERN)
    undone = list(unpick(PATTERN, last, START))
    assert sum(PATTERN.steps_in(row) for row in range(PATTERN.row_count)) == len(undone)
    assert back(PATTERN, last, "step") == undone[0].position
