"""What the keys of the stitching screen do: one table for bindings, help and footer."""

from __future__ import annotations

from dataclasses import dataclass

from textual.binding import Binding


@dataclass(frozen=True, slots=True)
class Action:
    """Something the beader can ask for."""

    id: str
    keys: tuple[str, ...]
    shown: str
    """The keys as the footer and the help name them."""
    label: str
    """In the footer, "" to leave it to the help."""
    help: str


ACTIONS = (
    Action(
        "forward",
        ("space", "enter", "right", "pagedown"),
        "Space",
        "on",
        "Go on: Space, Enter, Right or Page Down (pedals and page turners send these)",
    ),
    Action(
        "back",
        ("left", "backspace", "pageup"),
        "Backspace",
        "back",
        "Go back: Backspace, Left or Page Up",
    ),
    Action("by", ("r",), "r", "rows/steps", "Go on by step, or by whole rows"),
    Action("words", ("w",), "w", "", "Full words, short words, or as the row asks for"),
    Action("go_to", ("g",), "g", "go to row", "Go to a row"),
    Action("standing", ("s",), "s", "", "Say what the work should look like now"),
    Action("help", ("question_mark", "f1"), "?", "help", "This help"),
    Action("leave", ("q",), "q", "quit", "Stop here; the place is kept"),
)


def bindings() -> list[Binding]:
    """Textual's bindings for the table."""
    return [
        Binding(",".join(action.keys), action.id, action.label or action.help, id=action.id)
        for action in ACTIONS
    ]
