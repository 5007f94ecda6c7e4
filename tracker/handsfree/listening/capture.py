"""Where the sound comes from: a recording program that is installed, the user's own, or a file.

Sound is raw throughout: 16,000 samples a second, mono, 16 bit, little-endian.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
import wave
from collections.abc import Callable
from pathlib import Path
from typing import IO

from tracker.handsfree.programs import Program, end_group, last_line
from tracker.problems import shown

RATE = 16_000
"""Samples a second."""
WIDTH = 2
"""Bytes a sample."""

NO_CAPTURE = (
    "no recording program is installed; install sox or arecord, or name a command under [listen] "
    "in the settings"
)


def capture_program(
    command: tuple[str, ...] = (),
    *,
    platform: str = sys.platform,
    which: Callable[[str], str | None] = shutil.which,
) -> Program | None:
    """The user's `command`, which writes raw sound to its output, or what is installed."""
    if command:
        return Program(command)
    raw = ("-t", "raw", "-r", str(RATE), "-c", "1", "-b", "16", "-e", "signed-integer", "-L", "-")
    if platform == "linux" and (found := which("arecord")):
        return Program((found, "-q", "-t", "raw", "-f", "S16_LE", "-r", str(RATE), "-c", "1"))
    if found := which("rec"):
        return Program((found, "-q", *raw))
    if found := which("sox"):
        return Program((found, "-q", "-d", *raw))
    microphone = {"linux": ("alsa", "default"), "darwin": ("avfoundation", ":default")}
    if platform in microphone and (found := which("ffmpeg")):
        system, name = microphone[platform]
        quietly = ("-nostdin", "-loglevel", "error")
        out = ("-ac", "1", "-ar", str(RATE), "-f", "s16le", "-")
        return Program((found, *quietly, "-f", system, "-i", name, *out))
    return None


class Recording:
    """Sound from a running program. OSError or ValueError if it does not start."""

    def __init__(self, program: Program) -> None:
        self._program = program
        self._stopped = False
        self._errors: IO[bytes] = tempfile.TemporaryFile()  # noqa: SIM115  (closed with the rest)
        try:
            self._process = subprocess.Popen(  # noqa: S603  (a list of arguments, no shell)
                program.arguments,
                stdin=subprocess.DEVNULL,
                stdout=subprocess.PIPE,
                stderr=self._errors,
                bufsize=0,
                start_new_session=True,
            )
        except BaseException:
            self._errors.close()
            raise

    def read(self, most: int) -> bytes:
        """The next sound, at most so many bytes, as soon as there is any; b"" at its end."""
        assert self._process.stdout is not None
        return self._process.stdout.read(most)

    def stop(self) -> None:
        """End the program, from any thread; reading then comes to its end."""
        if self._process.poll() is None:
            self._stopped = True
            end_group(self._process)

    def close(self) -> str:
        """After the end of the sound: bury the program; what is to be told of it, or ""."""
        try:
            status = self._process.wait(1)  # its output has ended, so it should, too
        except subprocess.TimeoutExpired:
            end_group(self._process)
            status = self._process.wait()
        else:
            end_group(self._process)  # whatever it started and left running
        assert self._process.stdout is not None
        self._process.stdout.close()
        with self._errors:
            said = last_line(self._errors)
        if self._stopped:
            return ""
        reason = f"exit {status}" if status >= 0 else f"signal {-status}"
        told = f"{self._program.name} has stopped recording ({reason})"
        return f"{told}: {said}" if said else told


class FromFile:
    """Sound from a file: WAV, or raw. OSError if it cannot be read, ValueError if it does not fit.

    It is read as fast as it is listened to.
    """

    def __init__(self, path: Path) -> None:
        self._stopped = False
        self._file: IO[bytes] = path.open("rb")
        try:
            if path.suffix.lower() == ".wav":
                self._skip_header(path)
        except BaseException:
            self._file.close()
            raise

    def read(self, most: int) -> bytes:
        """The next sound, at most so many bytes; b"" at its end."""
        return b"" if self._stopped else self._file.read(most)

    def stop(self) -> None:
        """Make reading come to its end."""
        self._stopped = True

    def close(self) -> str:
        """Close the file. There is never anything to tell."""
        self._file.close()
        return ""

    def _skip_header(self, path: Path) -> None:
        try:
            with wave.open(str(path), "rb") as sound:
                form = (sound.getframerate(), sound.getnchannels(), sound.getsampwidth())
                frames = sound.readframes(sound.getnframes())
        except (wave.Error, EOFError) as error:
            raise ValueError(f"{shown(path.name)} is no WAV file") from error
        if form != (RATE, 1, WIDTH):
            raise ValueError(f"{shown(path.name)} is not 16 kHz, mono, 16 bit")
        self._file.close()
        self._file = tempfile.TemporaryFile()  # noqa: SIM115  (closed by close)
        self._file.write(frames)
        self._file.seek(0)


Sound = Recording | FromFile
"""Either source of sound."""


def open_sound(source: Program | Path) -> Sound:
    """Begin to take sound from a program or a file. OSError or ValueError if that cannot be."""
    return FromFile(source) if isinstance(source, Path) else Recording(source)
