"""Where the lesson is kept: in a folder of its own, so that its band is none of the pieces."""

from __future__ import annotations

import contextlib
import shutil
from importlib.resources import files
from pathlib import Path

import tomli_w

from tracker.files import parse_toml, read_text
from tracker.lesson.tasks import END, TASKS, Task, named
from tracker.loading import Loaded, compile_text
from tracker.problems import ProblemsError
from tracker.progress import durable
from tracker.progress.durable import SaveError, reason
from tracker.progress.store import Store
from tracker.starting import InHand, take_up_loaded

FOLDER, FILE = "lesson", "lesson.toml"
DESIGN = "first-steps.design.toml"
FORMAT = 1
LARGEST = 10_000


class Lesson:
    """The lesson of one beader, below the data folder `home`."""

    def __init__(self, home: Path) -> None:
        self._folder = home / FOLDER

    @property
    def begun(self) -> bool:
        """Whether it was left before its end."""
        return (self._folder / FILE).exists() and self.task() != END

    def task(self) -> Task:
        """The task that waits; the first one if nothing usable says otherwise."""
        try:
            kept = parse_toml(read_text(self._folder / FILE, LARGEST))
        except ProblemsError:
            return TASKS[0]
        return named(kept.get("task")) if kept.get("format") == FORMAT else TASKS[0]

    def keep(self, task: Task) -> None:
        """Take down which task waits. Raises SaveError."""
        try:
            self._folder.mkdir(parents=True, exist_ok=True)
            data = tomli_w.dumps({"format": FORMAT, "task": task.id}).encode()
            durable.replace(self._folder / FILE, data)
        except OSError as error:
            raise SaveError(f"could not keep the lesson: {reason(error)}") from error

    def take_up(self) -> InHand:
        """Its band, where it was left; begun anew if what is kept cannot be used.

        Raises ProblemsError that names the file.
        """
        if self.task() == END:
            self.forget()
        try:
            return self._take_up()
        except ProblemsError:
            self.forget()
            return self._take_up()

    def forget(self) -> None:
        """Put the lesson away: the next one begins with the first task."""
        # What cannot be removed is in nobody's way.
        with contextlib.suppress(OSError):
            (self._folder / FILE).unlink(missing_ok=True)
        shutil.rmtree(self._folder / "pieces", ignore_errors=True)

    def _take_up(self) -> InHand:
        design = files("tracker.lesson") / DESIGN
        compiled = compile_text(design.read_text("utf-8"))
        store = Store(self._folder)
        found = [listed.folder for listed in store.find(compiled.pattern.digest)]
        if not found:
            # The tasks go by the band: without it they begin anew too.
            self.forget()
        loaded = Loaded(
            pattern=compiled.pattern,
            text=compiled.text,
            source=Path(str(design)),
            piece=found[0] if found else None,
        )
        return take_up_loaded(loaded, store)
