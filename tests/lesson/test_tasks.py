"""The tasks of the lesson as a table: what does one, what does not, and what is said."""

from functools import cache

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.lesson.keeping import DESIGN
from tracker.lesson.tasks import (
    END,
    TASKS,
    Asked,
    CameBack,
    Event,
    Jumped,
    Task,
    Went,
    after,
    named,
    text_of,
)
from tracker.loading import compile_text
from tracker.pattern.model import Pattern
from tracker.progress.position import Position, clamped, forward
from tracker.settings.actions import ACTIONS

KEYS = {action.id: f"<{action.id}>" for action in ACTIONS}
AT = Position
DOING: dict[str, Event] = {
    "on": Went(AT(0, 0), AT(0, 1)),
    "back": Went(AT(0, 1), AT(0, 0)),
    "turn": Went(AT(0, 2), AT(1, 0)),
    "row": Jumped(AT(2, 0)),
    "pass": Went(AT(2, 0), AT(2, 1)),
    "left": Asked("count"),
    "large": Asked("speak"),
    "small": Asked("large"),
    "leave": CameBack(),
    "standing": Asked("standing"),
    "help": Asked("help"),
}
"""One event that does each task, but for the last, which has nothing to do."""


@cache
def band() -> Pattern:
    """The lesson's pattern."""
    from importlib.resources import files  # noqa: PLC0415  once

    return compile_text((files("tracker.lesson") / DESIGN).read_text("utf-8")).pattern


def test_each_task_is_done_in_turn() -> None:
    """From the first to the last, each by its event."""
    task = TASKS[0]
    for expected in TASKS:
        assert expected == task
        if task != END:
            task = after(task, band(), DOING[task.id])
    assert END == task


@pytest.mark.parametrize("task", TASKS, ids=lambda task: task.id)
@pytest.mark.parametrize("event", DOING.values(), ids=DOING)
def test_other_events_do_nothing(task: Task, event: Event) -> None:
    """What does another task leaves this one as it is, unless it is of the same kind."""
    alike = {"on": {"turn", "pass"}, "row": {"pass"}, "large": {"small"}, "small": {"large"}}
    does = task.id in DOING and event == DOING[task.id]
    does |= any(event == DOING[other] for other in alike.get(task.id, ()))
    assert does == (after(task, band(), event) != task)


@given(places=st.lists(st.tuples(st.integers(0, 12), st.integers(0, 2)), min_size=2, max_size=9))
def test_no_move_ever_breaks_it(places: list[tuple[int, int]]) -> None:
    """Whatever way over the band: at most one task for each move, and none is taken back."""
    row = clamped(band(), Position(*places[0]))
    task, at = TASKS[0], 0
    for place in places[1:]:
        now = clamped(band(), Position(*place))
        task = after(task, band(), Went(row, now))
        assert at <= TASKS.index(task) <= at + 1
        row, at = now, TASKS.index(task)


def test_the_band_has_what_the_tasks_speak_of() -> None:
    """A turn ends the first row, row 3 begins with a tile to pass by; all of it is short."""
    pattern = band()
    assert [False, False, True] == [step.turn for step in pattern.row(0).steps]
    assert pattern.row(2).steps[0].pass_by
    assert Position(1, 0) == forward(pattern, Position(0, 2), "step")
    assert pattern.row_count <= 20


def test_every_task_names_keys_that_there_are() -> None:
    """All placeholders are actions; the text holds no other brace and fits five lines of 60."""
    for task in TASKS:
        said = text_of(task, KEYS)
        assert "{" not in said
        assert len(text_of(task, dict.fromkeys(KEYS, "Backspace"))) < 5 * 55


def test_names_are_told_apart() -> None:
    """Every task is found by its name; anything else means the first."""
    assert list(TASKS) == [named(task.id) for task in TASKS]
    assert len(TASKS) == len({task.id for task in TASKS})
    assert [TASKS[0]] * 3 == [named(word) for word in ("nonsense", 3, None)]
