"""The tracker's driver, and one question to the terminal more: whether it shows pixels."""

from __future__ import annotations

from textual.app import App

from tracker.app.graphics import QUESTION, Answers, GraphicsKnown, kitty_gone, kitty_id
from tracker.app.terminal.driver import TerminalDriver

_BYTES = "latin-1"
"""Every byte as one character and back: an answer is made of ASCII, the rest is left as it is."""


class AskingDriver(TerminalDriver):
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
        super().start_application_mode()
        if self._writer_thread is not None and not self._answers.complete:
            self.write(QUESTION)

    def stop_application_mode(self) -> None:
        """Take our images out of the terminal and give it back: at the end, and for Ctrl+Z."""
        if self._answers.way == "kitty" and self._writer_thread is not None:
            self.write(kitty_gone(kitty_id(0)) + kitty_gone(kitty_id(1)))
        super().stop_application_mode()

    def typed(self, data: bytes) -> bytes:
        """What is left once the answers are taken out."""
        before = self._answers.complete
        keys = self._answers.keys_in(data.decode(_BYTES))
        if self._answers.complete and not before:
            self.process_message(GraphicsKnown(self._answers.way))
        return keys.encode(_BYTES)

    def typed_before_a_pause(self) -> bytes:
        """What looked like the beginning of an answer, and is none."""
        return self._answers.keys_after_a_pause().encode(_BYTES)
