"""Soft sounds that mark what a step brings: told apart by pitch, short, and never in the way."""

from __future__ import annotations

import io
import math
import shutil
import struct
import sys
import tempfile
import wave
from collections.abc import Callable
from enum import Enum
from pathlib import Path

from tracker.handsfree.programs import OneAtATime, Program

RATE = 22_050
"""Samples a second."""
LOUDNESS = 0.25
"""Of full scale: soft."""
FADE = 0.02
"""Seconds in which a tone swells; it dies away over the rest."""
_LONGEST = 10.0
"""Seconds before a player counts as hanging."""

_WINDOWS_PLAYER = "(New-Object System.Media.SoundPlayer ([Console]::In.ReadLine())).PlaySync()"


class Cue(Enum):
    """What a sound marks: its tones, each a pitch in hertz and a time in seconds."""

    TURN = ((660.0, 0.18),)
    ROW_END = ((523.0, 0.12), (784.0, 0.18))
    COLOUR_CHANGE = ((880.0, 0.1), (988.0, 0.1), (1175.0, 0.14))
    JOIN = ((440.0, 0.2), (330.0, 0.3))
    COUNT_IN = ((1320.0, 0.06),)


def wav(cue: Cue) -> bytes:
    """The sound of `cue` as a WAV file: mono, 16 bit."""
    samples = [sample for pitch, seconds in cue.value for sample in _tone(pitch, seconds)]
    file = io.BytesIO()
    with wave.open(file, "wb") as out:
        out.setnchannels(1)
        out.setsampwidth(2)
        out.setframerate(RATE)
        out.writeframes(struct.pack(f"<{len(samples)}h", *samples))
    return file.getvalue()


def player_program(
    command: tuple[str, ...] = (),
    *,
    platform: str = sys.platform,
    which: Callable[[str], str | None] = shutil.which,
) -> Program | None:
    """The user's `command`, which gets a WAV file as its last argument, or what is installed."""
    if command:
        return Program(command)
    if platform == "win32" and (found := which("powershell")):
        options = ("-NoProfile", "-NonInteractive", "-Command", _WINDOWS_PLAYER)
        return Program((found, *options), on_input=True)
    for name, quiet in (("afplay", ()), ("paplay", ()), ("aplay", ("-q",)), ("play", ("-q",))):
        if found := which(name):
            return Program((found, *quiet))
    return None


class Sounds:
    """Plays one cue at a time; without a player it keeps silent (the speech alone has to do)."""

    def __init__(
        self, program: Program | None, *, on_notice: Callable[[str], None] = lambda _: None
    ) -> None:
        self._running = OneAtATime(program, on_notice, lambda _: None) if program else None
        self._folder: tempfile.TemporaryDirectory[str] | None = None

    def play(self, cue: Cue) -> None:
        """Play `cue`, cutting off one that still sounds. Returns at once."""
        if self._running is not None:
            self._running.start(str(self._file(cue)), _LONGEST)

    def close(self) -> None:
        """Leave no process and no file behind."""
        if self._running is not None:
            self._running.close()
        if self._folder is not None:
            self._folder.cleanup()
            self._folder = None

    def _file(self, cue: Cue) -> Path:
        if self._folder is None:
            self._folder = tempfile.TemporaryDirectory(prefix="tracker-sounds-")
        path = Path(self._folder.name, f"{cue.name.lower()}.wav")
        if not path.exists():
            path.write_bytes(wav(cue))
        return path


def _tone(pitch: float, seconds: float) -> list[int]:
    """A sine that swells quickly and dies away, so that nothing clicks."""
    count = round(seconds * RATE)
    swell = round(FADE * RATE)
    return [
        round(
            32_767
            * LOUDNESS
            * min(1.0, at / swell)
            * (1 - at / count) ** 2
            * math.sin(2 * math.pi * pitch * at / RATE)
        )
        for at in range(count)
    ]
