"""Listens for spoken commands beside everything else: no sound ever waits for the screen.

One thread takes the sound from where it comes and hands it to the recogniser, which runs in a
process of its own; another takes from there what was heard.
"""

from __future__ import annotations

import contextlib
import json
import subprocess
import threading
from collections.abc import Callable, Mapping
from pathlib import Path

from tracker.handsfree.listening import worker
from tracker.handsfree.listening.capture import NO_CAPTURE, RATE, WIDTH, Sound, open_sound
from tracker.handsfree.listening.phrases import check, with_own
from tracker.handsfree.listening.recogniser import NO_RECOGNISER, dictionary_of, model_folder
from tracker.handsfree.programs import Program, end_group
from tracker.problems import shown
from tracker.processes import start_module
from tracker.records import record

SLEEP, WAKE = "sleep", "wake"

DEAF_TAIL = 0.3
"""Seconds for which the listener stays deaf after the tracker has spoken: echo, late sound."""

_CHUNK = round(0.06 * RATE) * WIDTH
"""Bytes of sound taken at a time."""
_PATIENCE = 1.0
"""Seconds that closing waits for a thread."""


@record
class Heard:
    """A command that was spoken."""

    command: str
    """Its id: forward, back, repeat, count, sleep, wake, undo_row."""
    phrase: str
    at: float
    """When its last word ended, in seconds of sound since listening began."""


def chosen_phrases(own: Mapping[str, str]) -> dict[str, str]:
    """The phrase of every command: the beader's `own`, else the usual one.

    Raises ProblemsError for all that cannot be listened for. Without a recogniser nothing is
    checked: there is nothing to check by, and nothing that will listen.
    """
    phrases = with_own(own)
    model = model_folder()
    if model is not None:
        with contextlib.suppress(OSError):
            check(phrases, dictionary_of(phrases, model))
    return phrases


def attend(awake: bool, command: str) -> tuple[bool, bool]:
    """Whether the listener is awake after hearing `command`, and whether the command counts.

    Asleep, it hears nothing but the command to wake.
    """
    if command == WAKE:
        return True, True
    return awake and command != SLEEP, awake


class Listener:
    """Hears commands in the sound of a program or a file until it is closed.

    `on_heard` and `on_notice` are called from other threads and must not wait for the one that
    closes the listener. `phrases` come from `chosen_phrases`.
    """

    def __init__(
        self,
        source: Program | Path | None,
        phrases: Mapping[str, str],
        *,
        on_heard: Callable[[Heard], None],
        on_notice: Callable[[str], None] = lambda _: None,
    ) -> None:
        self._source = source
        self._phrases = dict(phrases)
        self._on_heard = on_heard
        self._on_notice = on_notice
        self._awake = True
        self._hearing = threading.Lock()  # guards the two that follow
        self._deaf = False
        self._tail = 0  # bytes still to be dropped
        self._closing = False
        self._sound: Sound | None = None
        self._worker: subprocess.Popen[bytes] | None = None
        self._threads: tuple[threading.Thread, ...] = ()

    @property
    def awake(self) -> bool:
        """Whether commands count; asleep, only the command to wake does."""
        return self._awake

    @awake.setter
    def awake(self, awake: bool) -> None:
        self._awake = awake

    @property
    def listening(self) -> bool:
        """Whether sound is being listened to."""
        return any(thread.is_alive() for thread in self._threads)

    def start(self) -> bool:
        """Begin to listen; False, with a notice, if that cannot be."""
        if self._threads:
            return self.listening
        refusal = self._begin()
        if refusal:
            self._on_notice(refusal)
            return False
        self._threads = (
            threading.Thread(target=self._take_sound, daemon=True),
            threading.Thread(target=self._take_commands, daemon=True),
        )
        for thread in self._threads:
            thread.start()
        return True

    def deaf(self, deaf: bool) -> None:
        """Drop all sound from now on, or hear again after a short tail. Returns at once."""
        with self._hearing:
            if self._deaf and not deaf:
                self._tail = round(DEAF_TAIL * RATE) * WIDTH
            self._deaf = deaf

    def wait(self, seconds: float) -> bool:
        """Whether the sound came to its end in time, with everything in it heard."""
        for thread in self._threads:
            thread.join(seconds)
        return not self.listening

    def close(self) -> None:
        """Stop listening, and leave no process behind."""
        self._closing = True
        if self._sound is not None:
            self._sound.stop()
        if self._worker is not None and self._worker.poll() is None:
            end_group(self._worker)
        for thread in self._threads:
            if thread is not threading.current_thread():
                thread.join(_PATIENCE)

    def _begin(self) -> str:
        """Open the sound and start the recogniser; why that cannot be, or ""."""
        if model_folder() is None:
            return NO_RECOGNISER
        if self._source is None:
            return NO_CAPTURE
        try:
            self._sound = open_sound(self._source)
        except (OSError, ValueError) as error:
            reason = getattr(error, "strerror", None) or str(error)
            name = self._source.name
            return f"there is no sound from {shown(name)}: {shown(reason)}"
        try:
            self._worker = start_module(worker.__name__)
        except OSError as error:
            self._sound.stop()
            self._sound.close()
            return f"the recogniser does not start: {shown(str(error))}"
        return ""

    def _take_sound(self) -> None:
        """Hand the sound on, less what must not be heard, until it ends."""
        assert self._sound is not None
        assert self._worker is not None
        assert self._worker.stdin is not None
        recogniser = self._worker.stdin
        gone = False
        try:
            recogniser.write(json.dumps(self._phrases).encode() + b"\n")
            while sound := self._sound.read(_CHUNK):
                missed = self._missed(len(sound))
                if missed:
                    recogniser.write(worker.block(worker.MISSED, sound[:missed]))
                if missed < len(sound):
                    recogniser.write(worker.block(worker.SOUND, sound[missed:]))
                recogniser.flush()
        except (OSError, ValueError):
            gone = True  # the other thread tells of it
            self._sound.stop()
        with contextlib.suppress(OSError):
            recogniser.close()
        told = self._sound.close()
        if told and not gone and not self._closing:
            self._on_notice(told)

    def _missed(self, length: int) -> int:
        """How much of the next sound must not be heard."""
        with self._hearing:
            if self._deaf:
                return length
            missed = min(self._tail, length)
            self._tail -= missed
            return missed

    def _take_commands(self) -> None:
        """Pass on what the recogniser hears until it ends."""
        assert self._sound is not None
        assert self._worker is not None
        assert self._worker.stdout is not None
        for line in self._worker.stdout:
            self._told(json.loads(line))
        status = self._worker.wait()
        self._worker.stdout.close()
        self._sound.stop()
        if status != 0 and not self._closing:
            self._on_notice(f"the recogniser has ended (status {status}); listening has stopped")

    def _told(self, said: dict[str, object]) -> None:
        """Take one thing that the recogniser says."""
        if self._closing:
            return
        if "failure" in said:
            self._on_notice(shown(str(said["failure"])))
        if "command" in said:
            command = str(said["command"])
            self._awake, counts = attend(self._awake, command)
            if counts:
                at = float(str(said["at"]))
                self._on_heard(Heard(command, self._phrases[command], at))
