"""What the app's first screens have in common."""

from __future__ import annotations

from textual.geometry import Size
from textual.screen import Screen


class Sized(Screen[None]):
    """A screen that is laid out in the size that the terminal has, not in one that it had.

    A first screen may hear of two sizes before it is laid out at all: Textual would lay it out in
    the one, then in the other, and so on without an end.
    """

    def _screen_resized(self, size: Size) -> None:  # noqa: ARG002  it may be outdated
        super()._screen_resized(self.app.size)
