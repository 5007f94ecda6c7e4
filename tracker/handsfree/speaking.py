"""The tracker's voice: the system's own speech program, or a command from the settings.

What is said reaches the program as an argument or on its standard input, never through a shell,
and never as one of its options.
"""

from __future__ import annotations

import shutil
import sys
from collections.abc import Callable

from tracker.handsfree.programs import OneAtATime, Program

_SLOWEST = 0.3
"""Seconds a character that no speech program should need."""
_PATIENCE = 15.0
"""Seconds more before a speech program counts as hanging."""

_WINDOWS_VOICE = (
    "[Console]::InputEncoding = [Text.Encoding]::UTF8; "
    "Add-Type -AssemblyName System.Speech; "
    "(New-Object System.Speech.Synthesis.SpeechSynthesizer).Speak([Console]::In.ReadToEnd())"
)

NO_SPEECH = (
    "no speech program is installed; install espeak-ng, or name a command under [speak] in the "
    "settings"
)


def speech_program(
    command: tuple[str, ...] = (),
    *,
    platform: str = sys.platform,
    which: Callable[[str], str | None] = shutil.which,
) -> Program | None:
    """The user's `command`, which gets the text as its last argument, or what is installed."""
    if command:
        return Program(command)
    if platform == "darwin" and (found := which("say")):
        return Program((found, "-f", "-"), on_input=True)
    if platform == "win32" and (found := which("powershell")):
        options = ("-NoProfile", "-NonInteractive", "-Command", _WINDOWS_VOICE)
        return Program((found, *options), on_input=True)
    if found := which("espeak-ng"):
        return Program((found, "-b", "1", "--stdin"), on_input=True)
    if found := which("spd-say"):
        # It only hands the text to a service, so ending it does not silence the service.
        return Program((found, "--wait", "--"), stop=(found, "--stop"))
    return None


def spoken(text: str) -> str:
    """`text` as a speech program may have it: one printable line, no option, no inline command.

    >>> spoken("-w go [[back]]")
    ' -w go [ [back] ]'
    """
    plain = "".join(c if c.isprintable() else " " for c in text)
    plain = plain.replace("[[", "[ [").replace("]]", "] ]")
    return f" {plain}" if plain.startswith("-") else plain


class Speaker:
    """Says one thing at a time.

    `on_notice` hears once that speaking does not work; `on_speaking` hears whenever the voice
    begins and ends (a listener must not listen to it). Both may be called from another thread, and
    `on_speaking` must not wait for anything, lest the next `say` wait for it.
    """

    def __init__(
        self,
        program: Program | None,
        *,
        on_notice: Callable[[str], None] = lambda _: None,
        on_speaking: Callable[[bool], None] = lambda _: None,
    ) -> None:
        self._running = OneAtATime(program, on_notice, on_speaking) if program else None
        self._on_notice = on_notice
        self._told = False

    @property
    def speaking(self) -> bool:
        """Whether something is being said."""
        return self._running is not None and self._running.busy

    def say(self, text: str) -> None:
        """Say `text`, cutting off what is being said. Returns at once."""
        if self._running is None:
            if not self._told:
                self._told = True
                self._on_notice(NO_SPEECH)
            return
        said = spoken(text)
        if said.strip():
            self._running.start(said, _PATIENCE + _SLOWEST * len(said))
        else:
            self._running.stop()

    def hush(self) -> None:
        """Cut off what is being said."""
        if self._running is not None:
            self._running.stop()

    def close(self) -> None:
        """Hush, and leave no process behind."""
        if self._running is not None:
            self._running.close()
