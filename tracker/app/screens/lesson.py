"""The lesson: the stitching screen itself, on the lesson's band, with a panel for the tasks."""

from __future__ import annotations

from collections.abc import Callable

from textual.app import ComposeResult

from tracker.app.actions import ACTIONS, keys_of
from tracker.app.look import Dress
from tracker.app.pixels import Pixels
from tracker.app.screens.stitching import Stitching, Way
from tracker.app.widgets.foot import Foot
from tracker.app.widgets.task_panel import TaskPanel
from tracker.lesson.keeping import Lesson
from tracker.lesson.tasks import END, TASKS, Asked, CameBack, Event, Jumped, Went, after, text_of
from tracker.progress.durable import SaveError
from tracker.settings.model import Settings
from tracker.starting import InHand

STRIP_FROM = 34
"""Lines of a screen that has room for the strip of the whole band beside a task."""


class LessonScreen(Stitching):
    """One task at a time; what the beader does is looked at after it has been done."""

    def __init__(  # noqa: PLR0917  those of the stitching screen, and the lesson
        self,
        lesson: Lesson,
        in_hand: InHand,
        dress: Dress,
        settings: Settings,
        pressed_at: Callable[[], float],
        pixels: Pixels,
    ) -> None:
        super().__init__(in_hand, dress, settings, pressed_at, pixels)
        self._lesson = lesson
        self._to_do = lesson.task()
        self._before = self.session.progress.position
        self._pressed = False
        """Whether the place moves by a press."""
        self._told = 0
        """Lines that the task takes."""

    def compose(self) -> ComposeResult:
        """The screen as it always is, with the panel above its keys."""
        for part in super().compose():
            if isinstance(part, Foot):
                yield TaskPanel(id="task")
            yield part

    def on_mount(self) -> None:
        """Begin, or go on where the lesson was left."""
        # Textual calls what the screen beneath this one does itself.
        self._happened(CameBack())

    @property
    def over(self) -> bool:
        """Whether the lesson came to its end, in the window that keeps it."""
        return self._to_do == END and not self.session.read_only

    def action_do(self, what: str) -> None:
        """Do what a key stands for, and see whether that was the task."""
        super().action_do(what)
        self._happened(Asked(what))
        self.show()

    def step(self, way: Way) -> None:
        """Go on or back."""
        self._pressed = True
        super().step(way)
        self._pressed = False

    def show(self) -> None:
        """Show the place, and the task that waits."""
        now = self.session.progress.position
        if now != self._before:
            before, self._before = self._before, now
            self._happened(Went(before, now) if self._pressed else Jumped(now))
        keys = {action.id: keys_of(action, self.settings.keys) for action in ACTIONS}
        text = text_of(self._to_do, keys)
        label = f"LESSON {TASKS.index(self._to_do) + 1} of {len(TASKS)}"
        self._told = self.query_one(TaskPanel).tell(label, text, self.dress, self.size.width)
        super().show()

    def lines_told(self) -> int:
        """Lines that are taken by what is said: the notice's and the task's."""
        return super().lines_told() + self._told

    def strip_lines(self, high: int) -> int:
        """The strip of the band makes room for the task."""
        return super().strip_lines(high) if high >= STRIP_FROM else 0

    def _happened(self, event: Event) -> None:
        task = after(self._to_do, self.session.pattern, event)
        if task is self._to_do:
            return
        self._to_do = task
        if self.session.read_only:
            return
        try:
            self._lesson.keep(task)
        except SaveError as error:
            self.say(f"{error}.")
