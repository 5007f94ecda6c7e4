"""What is said in place of everything else where there is no room for it."""

from __future__ import annotations

from typing import Any

from rich.text import Text
from textual.app import App, ComposeResult
from textual.events import Resize
from textual.geometry import Size
from textual.screen import Screen
from textual.widgets import Static

LEAST = Size(40, 12)
"""The smallest screen, in cells, on which everything can be done."""


class TooSmall(Screen[None]):
    """Covers whatever is open until there is room for it: no key does anything unseen."""

    def compose(self) -> ComposeResult:
        """One text."""
        yield Static(id="told")

    def on_resize(self, event: Resize) -> None:
        """Say what is needed and what there is."""
        text = (
            f"Make me larger: {LEAST.width} by {LEAST.height} at least, "
            f"this is {event.size.width} by {event.size.height}. Ctrl+Q quits."
        )
        self.query_one("#told", Static).update(Text(text))

    def on_screen_resume(self) -> None:
        """Give way, when what lay on top is gone and there is room by now."""
        fit(self.app)


def fit(app: App[Any], size: Size | None = None) -> None:
    """Cover or uncover what `app` shows, as its size, or the one that it gets, demands."""
    width, height = size or app.size
    small = width < LEAST.width or height < LEAST.height
    covered = isinstance(app.screen, TooSmall)
    if small and not covered:
        app.push_screen(TooSmall())
    elif covered and not small:
        app.pop_screen()
