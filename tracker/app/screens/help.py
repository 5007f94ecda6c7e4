"""What the keys do and how to read the screen, from the same tables that drive them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar

from rich.text import Text
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Static

from tracker.app.actions import ACTIONS, keys_of
from tracker.app.lines import on_any_ground
from tracker.app.look import Dress
from tracker.pictures.cells import UNDER

CAUTION = (
    "Rest eyes and hands now and then. Keep needles and beads out of children's reach: small "
    "parts can choke. For findings and glue follow their makers' instructions and local rules."
)


class Help(ModalScreen[str | None]):
    """The help; any of its keys takes it away, one of them for the lesson."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,question_mark,f1,q,space,enter", "dismiss", "back", id="close_help"),
        Binding("l", "dismiss('learn')", "the lesson", id="learn_from_help"),
    ]

    def __init__(self, dress: Dress, keys: Mapping[str, tuple[str, ...]]) -> None:
        super().__init__()
        self._dress = dress
        self._keys = keys

    def compose(self) -> ComposeResult:
        """Keys, the picture, cautions."""
        with VerticalScroll(id="box"):
            yield Static(self._text())

    def _text(self) -> Text:
        look = self._dress
        text = Text()
        strong, plain = on_any_ground(look.text(bold=True)), on_any_ground(look.text())
        label, quiet = on_any_ground(look.label), on_any_ground(look.quiet)
        text.append("Keys\n", label)
        for action in ACTIONS:
            text.append(f"  {keys_of(action, self._keys):<10}", strong)
            text.append(f"{action.help}\n", plain)
        text.append("\nThe picture\n", label)
        for mark, mark_style, what in (
            (" 1 ", look.target, "go through here, in this order; in the picture ringed"),
            (f" {UNDER} ", look.target, "go under the thread that lies here"),
            (" ✕ ", look.wrong, "pass by: this bead is full"),
            (" ○ ", strong, "an open hole"),
            (
                " ● ",
                strong,
                "the thread comes out here; the line is its way",
            ),
            (" A ", strong, "a tile, with the letter of its colour; a seed has a small one"),
        ):
            text.append("  ")
            text.append(mark, mark_style)
            text.append(f"  {what}\n", plain)
        rim = look.tones.rim_called
        text.append(f"  Beads with a {rim} rim are those that you pick up now.\n", plain)
        text.append("  The first two rows are drawn as they will lie once pulled tight.\n\n", plain)
        text.append("Take care\n", label)
        text.append(f"  {CAUTION}\n\n", plain)
        text.append("A lesson of two minutes: ", plain)
        text.append("l", strong)
        text.append("; what you have in hand stays as it is.\n\n", plain)
        text.append("Escape takes this away. Every move is saved before it is shown.", quiet)
        return text
