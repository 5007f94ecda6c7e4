"""What a key or pedal sends, and which action it shall stand for."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path
from typing import ClassVar

from rich.text import Text
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.events import Key, Resize
from textual.widgets import Static

from tracker.app.actions import ACTIONS, USUAL_KEYS
from tracker.app.keys import is_silent
from tracker.app.screens.asking import Choose
from tracker.app.screens.too_small import fit
from tracker.app.terminal import usual_driver
from tracker.app.tones import Toned, worn
from tracker.problems import ProblemsError, shown
from tracker.settings.model import Themes
from tracker.settings.writer import bind

ANOTHER = "another"


class KeysApp(Toned):
    """Shows each key that is pressed and offers to bind it. Ctrl+Q leaves."""

    CSS_PATH = "../styles.tcss"
    ENABLE_COMMAND_PALETTE = False
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+q,ctrl+c", "quit", "quit", show=False, priority=True)
    ]

    def __init__(self, path: Path, keys: Mapping[str, tuple[str, ...]], theme: Themes) -> None:
        super().__init__(worn(theme, os.environ), driver_class=usual_driver())
        self._path = path
        self._keys = {**USUAL_KEYS, **keys}
        self._own = dict(keys)

    def compose(self) -> ComposeResult:
        """One text."""
        yield Static(id="told")

    def on_mount(self) -> None:
        """Ask for a key."""
        self._tell("")
        fit(self)

    def on_resize(self, event: Resize) -> None:
        """Ask for more room where there is too little."""
        fit(self, event.size)

    def on_key(self, event: Key) -> None:
        """A key on its own, whatever it is: that is the question here."""
        if len(self.screen_stack) > 1 or is_silent(event.key):
            return
        event.stop()
        key = event.key
        owner = next((action for action, own in self._keys.items() if key in own), None)
        does = _label(owner) if owner else "nothing yet"
        answers = {ANOTHER: "Try another key"}
        answers |= {action.id: _label(action.id) for action in ACTIONS if action.id != owner}
        question = f'This key sends "{shown(key)}". It does: {does}.\nWhat shall it do?'
        self.push_screen(Choose(question, answers), lambda answer: self._bind(key, owner, answer))

    def _bind(self, key: str, owner: str | None, action: str | None) -> None:
        if action is None or action == ANOTHER:
            return
        changed = {action: (*self._keys[action], key)}
        if owner is not None:
            # One key does one thing: it is taken from what it did before.
            rest = tuple(own for own in self._keys[owner] if own != key)
            if not rest:
                self._tell(f'"{key}" is the only key of {_label(owner)}: give that another first.')
                return
            changed[owner] = rest
        try:
            bind(self._path, changed)
        except ProblemsError as error:
            self._tell(" ".join(error.lines()))
            return
        self._keys.update(changed)
        self._tell(f'"{key}" now does: {_label(action)}. Saved in {self._path}.')

    def _tell(self, text: str) -> None:
        said = Text()
        said.append("\n  Press a key, a pedal or a page turner. Ctrl+Q leaves.\n\n", "bold")
        if text:
            said.append(f"  {shown(text)}\n\n")
        for action in ACTIONS:
            said.append(f"  {', '.join(self._keys[action.id]):<34}")
            said.append(f"{_label(action.id)}\n")
        self.query_one("#told", Static).update(said)


def _label(action: str) -> str:
    return next(a.help.partition(":")[0] for a in ACTIONS if a.id == action)


def run_keys(path: Path, keys: Mapping[str, tuple[str, ...]], theme: Themes) -> int:
    """Run the screen until it is left; its exit status."""
    app = KeysApp(path, keys, theme)
    app.run(mouse=False)
    return app.return_code or 0
