"""The keys of the stitching screen as Textual binds them and as the screen names them."""

from __future__ import annotations

from collections.abc import Mapping

from textual.binding import Binding

from tracker.settings.actions import ACTIONS, COMMANDS, USUAL_KEYS, Action

__all__ = ["ACTIONS", "COMMANDS", "USUAL_KEYS", "Action", "bindings", "keys_of"]


def bindings() -> list[Binding]:
    """Textual's bindings for the table."""
    return [
        Binding(
            ",".join(action.keys),
            f"do('{action.id}')",
            action.label or action.help,
            id=action.id,
        )
        for action in ACTIONS
    ]


def keys_of(action: Action, keys: Mapping[str, tuple[str, ...]]) -> str:
    """The keys of an action as they are shown, where the settings may have moved it."""
    moved = keys.get(action.id)
    return action.shown if moved is None else moved[0]
