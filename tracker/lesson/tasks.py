"""The tasks of the lesson: what is said, and what the beader has to have done before the next one.

Pure: what happened on the screen comes as an event, and nothing but an event moves the lesson on.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Protocol

from tracker.path.model import Row, Step
from tracker.progress.position import Position
from tracker.records import record


class Rows(Protocol):
    """The lesson's pattern, as the tasks see it. Rows are counted from 0."""

    @property
    def row_count(self) -> int:
        """Rows in the whole piece."""
        ...

    def row(self, number: int, /) -> Row:
        """A row with its steps."""
        ...


@record
class Went:
    """A press went on or back."""

    before: Position
    now: Position


@record
class Jumped:
    """The place is another one without having been gone to."""

    now: Position


@record
class Asked:
    """The beader asked for something, by its name in the table of keys."""

    action: str


@record
class CameBack:
    """The lesson was left, and is taken up again."""


Event = Went | Jumped | Asked | CameBack


@record(kw_only=True)
class Task:
    """One thing to be told and done."""

    id: str
    text: str
    """The keys of an action stand as `{action}`, so that moved keys are told as they are."""
    done: Callable[[Rows, Event], bool]


def text_of(task: Task, keys: Mapping[str, str]) -> str:
    """What is said for a task; `keys` names the key of each action."""
    return task.text.format_map(keys)


def after(task: Task, rows: Rows, event: Event) -> Task:
    """The task that waits after an event: the next one if this one is done by it."""
    at = TASKS.index(task)
    return TASKS[at + 1] if at + 1 < len(TASKS) and task.done(rows, event) else task


def named(id_: object) -> Task:
    """The task of that name; the first one if there is none."""
    return next((task for task in TASKS if task.id == id_), TASKS[0])


def _stitched(rows: Rows, event: Event) -> Iterator[Step]:
    """The steps that were gone on over; none if the event is no way forward."""
    if isinstance(event, Went) and event.before < event.now:
        for number in range(event.before.row, min(event.now.row + 1, rows.row_count)):
            for at, step in enumerate(rows.row(number).steps):
                if event.before <= (number, at) < event.now:
                    yield step


def _on(rows: Rows, event: Event) -> bool:
    return any(_stitched(rows, event))


def _back(_: Rows, event: Event) -> bool:
    return isinstance(event, Went) and event.now < event.before


def _turned(rows: Rows, event: Event) -> bool:
    return any(step.turn for step in _stitched(rows, event))


def _in_the_rows(rows: Rows, event: Event) -> bool:
    return isinstance(event, Went | Jumped) and 2 <= event.now.row < rows.row_count


def _passed_by(rows: Rows, event: Event) -> bool:
    return any(step.pass_by for step in _stitched(rows, event))


def _asked(*actions: str) -> Callable[[Rows, Event], bool]:
    return lambda _, event: isinstance(event, Asked) and event.action in actions


TASKS = (
    Task(
        id="on",
        text="No beads are needed here. At the top stands your next move: what to PICK UP, what "
        "to GO THROUGH; below it the move is drawn. Read it, then press {forward}: it goes on.",
        done=_on,
    ),
    Task(
        id="back",
        text="The next step stands there now. Pressed too soon? {back} goes back, as far as you "
        "like. Go back one step.",
        done=_back,
    ),
    Task(
        id="turn",
        text="At its edge a row ends with a turn: the needle must GO BACK through the tile just "
        "added. Go on with {forward} until that is said, and once more past it.",
        done=_turned,
    ),
    Task(
        id="row",
        text="The first two rows are the start; from row 3 on all rows are alike. You can go to "
        "any row: press {go_to}, type 3, press Enter.",
        done=_in_the_rows,
    ),
    Task(
        id="pass",
        text="PASS BY, and a cross in the picture: that tile is full, leave it alone. To go "
        "through it is the commonest mistake. The rings are the holes to go through. Pass by it: "
        "{forward}.",
        done=_passed_by,
    ),
    Task(
        id="left",
        text="What is left of rows, length, thread and beads stands at the right, if the screen "
        "is wide enough. {count} says it in words: press it.",
        done=_asked("count"),
    ),
    Task(
        id="large",
        text="With the work in both hands you may sit far away: {large} shows the move in big "
        "letters ({speak} reads it aloud, where a speech program is installed). Press one.",
        done=_asked("large", "speak"),
    ),
    Task(
        id="small",
        text="Every such key is a switch: press it again to have it as it was.",
        done=_asked("large", "speak"),
    ),
    Task(
        id="leave",
        text="There is no key for saving: each move is on the disk before you see the next. Try "
        "it: {leave} puts the band down. Then come back by the way that led you here.",
        done=lambda _, event: isinstance(event, CameBack),
    ),
    Task(
        id="standing",
        text="Here you are where you left: row and step stand in the top line. {standing} says "
        "what the work should look like at this place. Press it.",
        done=_asked("standing"),
    ),
    Task(
        id="help",
        text="That is all it takes to weave. {help} lists every key, such as those for finding "
        "your place and for taking out rows. Look at it, Escape takes it away.",
        done=_asked("help"),
    ),
    Task(
        id="end",
        text="The lesson is over. {leave} puts it away; at the bench, Enter takes up the band "
        "that you choose.",
        done=lambda _rows, _event: False,
    ),
)
"""In the order in which they are told."""
END = TASKS[-1]
