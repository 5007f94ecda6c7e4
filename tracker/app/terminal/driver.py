"""Textual's driver for Linux and macOS, with its input made safe and its size its own."""

from __future__ import annotations

import asyncio
import os
import selectors
import signal
from codecs import getincrementaldecoder
from collections.abc import Iterator
from time import monotonic

from textual._xterm_parser import XTermParser
from textual.drivers.linux_driver import LinuxDriver
from textual.events import Key, Paste
from textual.message import Message

from tracker.app.terminal.keyboard import key_of
from tracker.app.terminal.sequences import ESC, Cutter, Pasted, Piece

_LOOK_UP = 0.1
"""After so long without input it is seen whether the app is ending, seconds."""
_LOOK_UP_SOON = 0.02
"""The same while an Escape waits for what may follow."""
_AT_ONCE = 4096
_PAINTED_ON = 2
"""Standard error."""


class Keyboard:
    """Bytes of a terminal in, messages of keys and pastes out."""

    def __init__(self) -> None:
        # Textual's decoder raises on what is no UTF-8, and the app would end.
        self._decode = getincrementaldecoder("utf-8")("surrogateescape").decode
        self._cutter = Cutter()
        self._parser = XTermParser()

    @property
    def waiting(self) -> bool:
        """Whether `idle` has something to wait for."""
        return self._cutter.waiting

    def feed(self, data: bytes, now: float) -> Iterator[Message]:
        """What these bytes say."""
        for piece in self._cutter.cut(self._decode(data), now):
            yield from self._told(piece)

    def idle(self, now: float) -> Iterator[Message]:
        """What the end of input so far says, in time."""
        for piece in self._cutter.idle(now):
            yield from self._told(piece)

    def _told(self, piece: Piece) -> Iterator[Message]:
        key = key_of(piece)
        if isinstance(key, Pasted):
            yield Paste(key.text)
        elif key == ESC:
            yield Key("escape", ESC)  # the parser would wait for more of it
        elif key is not None:
            yield from self._parser.feed(key)


class TerminalDriver(LinuxDriver):
    """Reads keys by `Keyboard`, the size from the terminal itself, and gives that back."""

    def start_application_mode(self) -> None:
        """Take the terminal, signals first: they would end the program and leave it raw."""
        loop = asyncio.get_running_loop()
        for number in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP):
            loop.add_signal_handler(number, self._app.exit)
        # Textual's own handler may break into the writing of a frame, and wait for it for ever.
        loop.add_signal_handler(signal.SIGTSTP, self._sigtstp_application)
        super().start_application_mode()  # type: ignore[no-untyped-call]  # Textual's own

    def typed(self, data: bytes) -> bytes:
        """What of the input may be keys."""
        return data

    def typed_before_a_pause(self) -> bytes:
        """What was kept back until nothing followed it."""
        return b""

    def run_input_thread(self) -> None:
        """Read until the app ends."""
        keyboard = Keyboard()
        with selectors.SelectSelector() as selector:
            selector.register(self.fileno, selectors.EVENT_READ)
            while not self.exit_event.is_set():
                if selector.select(_LOOK_UP_SOON if keyboard.waiting else _LOOK_UP):
                    try:
                        data = os.read(self.fileno, _AT_ONCE)
                    except OSError:
                        data = b""
                    if not data:
                        # The terminal is gone, and SIGHUP may have been taken by a shell.
                        self._app.call_later(self._app.exit)
                        return
                    data = self.typed(data)
                else:
                    data = self.typed_before_a_pause()
                # Nothing is no input: what has begun waits for its rest from when it came.
                for message in keyboard.feed(data, monotonic()) if data else ():
                    self.process_message(message)
                for message in keyboard.idle(monotonic()):
                    self.process_message(message)

    def _get_terminal_size(self) -> tuple[int, int]:
        # Textual asks standard output, which may be a file, and believes COLUMNS before that.
        try:
            width, height = os.get_terminal_size(_PAINTED_ON)
        except OSError:
            width = height = 0
        return (width, height) if width and height else super()._get_terminal_size()
