"""Programs of the system that speak, sound or record: found, started, cut off, never left behind.

A program is started from a list of arguments, never through a shell, in a process group of its
own, so that whatever it starts ends with it.
"""

from __future__ import annotations

import contextlib
import os
import signal
import subprocess
import sys
import tempfile
import threading
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import IO

from tracker.problems import shown
from tracker.records import record

NOTICE_LENGTH = 160


@record
class Program:
    """How to start a program, and how to tell it what to do."""

    arguments: tuple[str, ...]
    on_input: bool = False
    """Whether what it works on goes to its standard input instead of becoming the last argument."""
    stop: tuple[str, ...] = ()
    """A further command that silences it, where ending the program is not enough."""

    @property
    def name(self) -> str:
        """The program without its folder and arguments, safe to show."""
        return shown(Path(self.arguments[0]).name)


@dataclass(slots=True)
class _Run:
    """One start of a program."""

    process: subprocess.Popen[bytes]
    errors: IO[bytes]
    cut_off: bool = False


class OneAtATime:
    """Runs a program for one thing at a time: a new one cuts off what is still running.

    `on_notice` hears, once, that the program fails; `on_busy` hears whenever running begins and
    ends, in that order, and must not wait for anything. Both may be called from another thread.
    Nothing here waits for the program.
    """

    def __init__(
        self,
        program: Program,
        on_notice: Callable[[str], None],
        on_busy: Callable[[bool], None],
    ) -> None:
        self._program = program
        self._on_notice = on_notice
        self._on_busy = on_busy
        self._lock = threading.RLock()
        self._run: _Run | None = None
        self._watcher: threading.Thread | None = None
        self._noticed = False

    @property
    def busy(self) -> bool:
        """Whether the program is running."""
        return self._run is not None

    def start(self, given: str, longest: float) -> None:
        """Run the program on `given`, cutting off what runs; `longest` seconds are its limit."""
        failure = ""
        with self._lock:
            was_busy = self._cut_off()
            try:
                self._run = run = self._begin(given)
            except (OSError, ValueError) as error:
                reason = getattr(error, "strerror", None) or "its command cannot be used"
                failure = f"{self._program.name} does not start: {shown(reason)}"
            else:
                self._watcher = threading.Thread(
                    target=self._watch, args=(run, longest), daemon=True
                )
                self._watcher.start()
            if was_busy == bool(failure):
                self._on_busy(not failure)
        self._notice(failure)

    def stop(self) -> None:
        """Cut off what is running."""
        with self._lock:
            if self._cut_off():
                self._on_busy(False)

    def close(self) -> None:
        """Cut off what is running, and see it buried."""
        self.stop()
        if self._watcher is not None:
            self._watcher.join(2)

    def _begin(self, given: str) -> _Run:
        """A started program. Its input and errors are files, so no pipe can block anybody."""
        text = given.encode("utf-8", "replace")
        arguments = list(self._program.arguments)
        errors = tempfile.TemporaryFile()  # noqa: SIM115  (closed by the watcher)
        try:
            with tempfile.TemporaryFile() as stdin:
                if self._program.on_input:
                    stdin.write(text)
                    stdin.seek(0)
                else:
                    arguments.append(text.decode("utf-8"))
                process = subprocess.Popen(  # noqa: S603  (a list of arguments, no shell)
                    arguments,
                    stdin=stdin,
                    stdout=subprocess.DEVNULL,
                    stderr=errors,
                    start_new_session=True,
                )
        except BaseException:
            errors.close()
            raise
        return _Run(process, errors)

    def _cut_off(self) -> bool:
        """Whether something was running; it is ended."""
        run, self._run = self._run, None
        if run is None:
            return False
        run.cut_off = True
        end_group(run.process)
        if self._program.stop:
            with contextlib.suppress(OSError):
                silencing = subprocess.Popen(  # noqa: S603  (our own fixed command)
                    self._program.stop,
                    stdin=subprocess.DEVNULL,
                    stdout=subprocess.DEVNULL,
                    stderr=subprocess.DEVNULL,
                )
                threading.Thread(target=silencing.wait, daemon=True).start()
        return True

    def _watch(self, run: _Run, longest: float) -> None:
        """Bury the program when it ends; end it when it takes too long; say once if it fails."""
        failure = ""
        with run.errors:
            try:
                status = run.process.wait(longest)
            except subprocess.TimeoutExpired:
                failure = f"{self._program.name} does not come to an end"
                end_group(run.process)
                run.process.wait()
            else:
                end_group(run.process)  # whatever it started and left running
                if status != 0:
                    failure = f"{self._program.name} fails{_reason(status, run.errors)}"
        with self._lock:
            if run.cut_off:
                return
            self._run = None
            self._on_busy(False)
        self._notice(failure)

    def _notice(self, failure: str) -> None:
        """Tell of a failure, if it is one and the first; never while holding the lock."""
        if failure and not self._noticed:
            self._noticed = True
            self._on_notice(failure)


def end_group(process: subprocess.Popen[bytes]) -> None:
    """End a process at once, and everything that it started in its group."""
    if sys.platform == "win32":
        process.kill()
        return
    with contextlib.suppress(ProcessLookupError, PermissionError):
        os.killpg(process.pid, signal.SIGKILL)


def last_line(errors: IO[bytes]) -> str:
    """The last line a program wrote to its `errors`, safe to show; "" if there is none."""
    size = errors.seek(0, os.SEEK_END)
    errors.seek(max(0, size - 2000))
    lines = errors.read().decode("utf-8", "replace").split("\n")
    said = next((line.strip() for line in reversed(lines) if line.strip()), "")
    return shown(said)[:NOTICE_LENGTH]


def _reason(status: int, errors: IO[bytes]) -> str:
    how = f" (exit {status})" if status > 0 else f" (ended by signal {-status})"
    said = last_line(errors)
    return f"{how}: {said}" if said else how
