"""One of a few values, changed by Left, Right or Space."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar

from rich.text import Text
from textual.binding import Binding, BindingType
from textual.message import Message
from textual.widgets import Static

from tracker.records import record


class Choice(Static, can_focus=True):
    """Shows the value that is chosen."""

    DEFAULT_CSS = "Choice { width: 1fr; height: 1; }"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("right,space,enter", "turn(1)", "next", id="next_choice", show=False),
        Binding("left", "turn(-1)", "the one before", id="choice_before", show=False),
    ]

    @record(frozen=False, slots=False)
    class Changed(Message):
        """Another value was chosen."""

        choice: Choice
        value: str

    def __init__(self, options: Mapping[str, str], value: str, *, id: str) -> None:  # noqa: A002  Textual's own word
        super().__init__(id=id)
        # A value that is none of them is one that the file had: it can be kept.
        own = {value: "as the file has it" if value.startswith("{") else value}
        self._options = dict(options) if value in options else {**own, **options}
        self.value = value

    def offer(self, options: Mapping[str, str]) -> None:
        """Offer other values; the first of them is chosen if what was chosen is none of them."""
        self._options = dict(options)
        if self.value not in self._options:
            self.value = next(iter(self._options))
        self._tell()

    def on_mount(self) -> None:
        """Show what is chosen."""
        self._tell()

    def action_turn(self, by: int) -> None:
        """Go to the next value, or to the one before."""
        values = list(self._options)
        self.value = values[(values.index(self.value) + by) % len(values)]
        self._tell()
        self.post_message(self.Changed(self, self.value))

    def _tell(self) -> None:
        self.update(Text(f"◂ {self._options[self.value]} ▸", no_wrap=True))
