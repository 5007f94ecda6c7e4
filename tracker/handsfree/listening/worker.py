"""The recogniser in a process of its own: sound in, commands out.

Started as `python -m tracker.handsfree.listening.worker`. On its input stands a line of JSON (the
phrases, by command), then blocks: a kind, a length, and for sound so many bytes. On its output it
writes a line of JSON for each thing that it has to say, a `Ready`, a `Command` or a `Failure`.
It ends when its input does.
"""

from __future__ import annotations

import json
import struct
import sys
from collections.abc import Iterator
from typing import BinaryIO

from tracker.handsfree.listening.recogniser import NO_RECOGNISER, Recogniser, model_folder
from tracker.handsfree.listening.voice_gate import FRAME, FRAME_BYTES, PAUSE, Stretch, VoiceGate

HEADER = struct.Struct("<cI")
SOUND = b"s"
"""A block of sound."""
MISSED = b"m"
"""So many bytes of sound were left out here."""

_TAIL = bytes(FRAME_BYTES) * (round(PAUSE / FRAME) + 2)
"""Silence that ends a stretch which the end of the sound has cut off."""


def block(kind: bytes, sound: bytes) -> bytes:
    """A block for the worker's input: the sound, or only how much of it was missed."""
    return HEADER.pack(kind, len(sound)) + (sound if kind == SOUND else b"")


def stretches(stream: BinaryIO, gate: VoiceGate) -> Iterator[Stretch]:
    """The stretches of speech in the blocks of the stream."""
    rest = b""
    while len(header := stream.read(HEADER.size)) == HEADER.size:
        kind, length = HEADER.unpack(header)
        if kind == MISSED:
            gate.reset(missed=round((len(rest) + length) / FRAME_BYTES))
            rest = b""
            continue
        rest += stream.read(length)
        whole = len(rest) - len(rest) % FRAME_BYTES
        yield from _fed(gate, rest[:whole])
        rest = rest[whole:]
    yield from _fed(gate, _TAIL)


def main() -> None:
    """Listen until the input ends."""
    phrases = json.loads(sys.stdin.buffer.readline())
    model = model_folder()
    if model is None:
        _tell({"failure": NO_RECOGNISER})
        return
    try:
        recogniser = Recogniser(phrases, model)
    except (ImportError, OSError, RuntimeError) as error:
        _tell({"failure": f"the recogniser does not start: {error}"})
        return
    _tell({"ready": True})
    for stretch in stretches(sys.stdin.buffer, VoiceGate(recogniser.is_speech)):
        command = recogniser.command(stretch)
        if command is not None:
            _tell({"command": command, "at": round(stretch.at, 2)})


def _tell(what: dict[str, object]) -> None:
    sys.stdout.write(json.dumps(what) + "\n")
    sys.stdout.flush()


def _fed(gate: VoiceGate, sound: bytes) -> Iterator[Stretch]:
    for begin in range(0, len(sound), FRAME_BYTES):
        stretch = gate.feed(sound[begin : begin + FRAME_BYTES])
        if stretch is not None:
            yield stretch


if __name__ == "__main__":
    main()
