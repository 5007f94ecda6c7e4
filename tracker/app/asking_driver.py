"""Textual's own driver, and one question more."""

from __future__ import annotations

import os
import selectors
from codecs import getincrementaldecoder

from textual._parser import ParseError
from textual._xterm_parser import XTermParser
from textual.app import App
from textual.drivers.linux_driver import LinuxDriver

from tracker.app.graphics import QUESTION, Answers, GraphicsKnown, kitty_gone, kitty_id

TICK = 0.1
"""Seconds without input after which an unfinished sequence is taken for keys, as in Textual."""


class AskingDriver(LinuxDriver):
    """Asks the terminal for graphics behind the first frame; the answers never become keys."""

    def __init__(
        self,
        app: App[object],
        *,
        debug: bool = False,
        mouse: bool = True,
        size: tuple[int, int] | None = None,
    ) -> None:
        super().__init__(app, debug=debug, mouse=mouse, size=size)
        self._answers = Answers()

    def start_application_mode(self) -> None:
        """Take the terminal, and ask unless it has answered already."""
        super().start_application_mode()  # type: ignore[no-untyped-call]
        if self._writer_thread is not None and not self._answers.complete:
            self.write(QUESTION)

    def stop_application_mode(self) -> None:
        """Take our images out of the terminal and give it back: at the end, and for Ctrl+Z."""
        if self._answers.way == "kitty" and self._writer_thread is not None:
            self.write(kitty_gone(kitty_id(0)) + kitty_gone(kitty_id(1)))
        super().stop_application_mode()

    def run_input_thread(self) -> None:
        """Read keys as Textual does, once the answers are taken out."""
        parser = XTermParser(self._debug)
        decode = getincrementaldecoder("utf-8")().decode
        with selectors.SelectSelector() as selector:
            selector.register(self.fileno, selectors.EVENT_READ)
            while not self.exit_event.is_set():
                if selector.select(TICK):
                    text = self._keys_in(decode(os.read(self.fileno, 4096)))
                else:
                    text = self._answers.keys_after_a_pause()
                for message in (*(parser.feed(text) if text else ()), *parser.tick()):
                    self.process_message(message)
        try:
            for _ in parser.feed(""):
                pass
        except (EOFError, ParseError):
            pass  # an unfinished sequence: nobody waits for its key any more

    def _keys_in(self, text: str) -> str:
        before = self._answers.complete
        keys = self._answers.keys_in(text)
        if self._answers.complete and not before:
            self.process_message(GraphicsKnown(self._answers.way))
        return keys
