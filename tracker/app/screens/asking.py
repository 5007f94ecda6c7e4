"""Questions in the beader's way: one for a value to type, one for a choice."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar, Generic, TypeVar

from rich.text import Text
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

T = TypeVar("T")


class Ask(ModalScreen[T | None], Generic[T]):
    """A value is typed; Enter takes it, Escape leaves things as they are.

    `parse` turns the text into the value, or says in a ValueError what is wrong with it.
    """

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "dismiss", "back", id="cancel")]

    def __init__(
        self,
        question: str,
        parse: Callable[[str], T],
        usual: str = "",
        *,
        value: str = "",
        longest: int = 40,
    ) -> None:
        super().__init__()
        self._value = value
        self._longest = longest
        self._question = question
        self._parse = parse
        self._usual = usual
        self._value = value

    def compose(self) -> ComposeResult:
        """A question and a field."""
        with Vertical(id="box"):
            yield Static(Text(self._question))
            # What stands there already may be longer: a file's name.
            longest = max(self._longest, len(self._value) + 200) if self._value else self._longest
            line = Input(self._value, placeholder=self._usual, max_length=longest)
            line.select_on_focus = False
            yield line
            yield Static(Text("Enter takes it, Escape leaves things as they are."), id="how")

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Take the value, or say what is wrong."""
        text = event.value.strip()
        if not text:
            self.dismiss(None)
            return
        try:
            self.dismiss(self._parse(text))
        except ValueError as error:
            self.query_one("#how", Static).update(Text(f"{error}."))


class Choose(ModalScreen[str | None]):
    """One of a few answers is chosen; Escape leaves things as they are."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "dismiss", "back", id="cancel_choice"),
        Binding("space,right", "choose", "choose", id="take_choice"),
    ]

    def __init__(self, question: str, answers: dict[str, str]) -> None:
        super().__init__()
        self._question = question
        self._answers = answers

    def compose(self) -> ComposeResult:
        """A question and its answers."""
        with Vertical(id="box"):
            yield Static(Text(self._question))
            options = [Option(Text(text), id=key) for key, text in self._answers.items()]
            yield OptionList(*options, id="answers")
            yield Static(Text("Up, Down, Enter; Escape leaves things as they are."), id="how")

    def action_choose(self) -> None:
        """Take the highlighted answer."""
        self.query_one(OptionList).action_select()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Answered."""
        self.dismiss(event.option_id)


def a_row(rows: int) -> Callable[[str], int]:
    """Reads a row's number from 1 to `rows`."""

    def parse(text: str) -> int:
        if not text.isdecimal() or not 1 <= int(text) <= rows:
            raise ValueError(f"There is no row {text}: 1 to {rows}")
        return int(text)

    return parse
