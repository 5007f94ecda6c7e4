"""What the keys of the stitching screen do: one table for bindings, help, footer and settings."""

from __future__ import annotations

from collections.abc import Mapping

from tracker.records import record


@record
class Action:
    """Something the beader can ask for."""

    id: str
    """Its name in the settings."""
    keys: tuple[str, ...]
    """Its usual keys."""
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
        "Go on: Space, Enter, Right or Page Down, as pedals send",
    ),
    Action(
        "back",
        ("left", "backspace", "pageup"),
        "Backspace",
        "back",
        "Go back: Backspace, Left or Page Up",
    ),
    Action("by", ("r",), "r", "rows/steps", "Go on by step, or by whole rows"),
    Action("go_to", ("g",), "g", "go to row", "Go to a row"),
    Action("find", ("f",), "f", "", "Find my place by a few questions"),
    Action("unpick", ("u",), "u", "", "Take work out step by step, back to a row; again: give up"),
    Action("measure", ("m",), "m", "", "The piece measures ..."),
    Action("join", ("j",), "j", "", "A new length of thread is joined here"),
    Action("lose", ("x",), "x", "", "Beads dropped or broken"),
    Action("supplies", ("i",), "i", "", "Supplies, and the beads that are on hand"),
    Action("standing", ("s",), "s", "", "Say what the work should look like now"),
    Action("count", ("c",), "c", "", "Say what is left"),
    Action("speak", ("v",), "v", "", "Voice: read the steps aloud, or fall silent"),
    Action("listen", ("l",), "l", "", "Listen for spoken commands, or stop listening"),
    Action("tempo", ("t",), "t", "", "Tempo: go on by itself; any key pauses"),
    Action("large", ("b",), "b", "", "Big letters, to be read across the room"),
    Action("words", ("w",), "w", "", "Full words, short words, or as the row asks for"),
    Action("theme", ("d",), "d", "", "Dark or light colours"),
    Action("help", ("question_mark", "f1"), "?", "help", "This help"),
    Action("leave", ("q",), "q", "quit", "Stop here; the place is kept"),
)

USUAL_KEYS: Mapping[str, tuple[str, ...]] = {action.id: action.keys for action in ACTIONS}
"""The usual keys of each action, as the settings know them."""

COMMANDS = ("forward", "back", "repeat", "count", "undo_row", "sleep", "wake")
"""What can be asked for by voice, as the settings know it."""
