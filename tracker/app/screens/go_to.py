"""Ask for a row."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.validation import Integer
from textual.widgets import Input, Label


class GoTo(ModalScreen[int | None]):
    """A number is typed; Enter goes there, Escape goes back."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "dismiss", "back", id="cancel")]

    def __init__(self, rows: int, row: int) -> None:
        super().__init__()
        self._rows = rows
        self._row = row

    def compose(self) -> ComposeResult:
        """A question and a field."""
        with Vertical(id="box"):
            yield Label(f"Go to the start of which row? (1 to {self._rows}, now {self._row})")
            yield Input(
                placeholder=str(self._row),
                type="integer",
                validators=[Integer(1, self._rows)],
                validate_on=["submitted"],
                max_length=6,
            )
            yield Label("Enter goes there, Escape stays.", id="how")

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Go, or say what is wrong."""
        if not event.value.strip():
            self.dismiss(None)
        elif event.validation_result is not None and event.validation_result.is_valid:
            self.dismiss(int(event.value))
        else:
            wrong = f"There is no row {event.value}: 1 to {self._rows}."
            self.query_one("#how", Label).update(wrong)
