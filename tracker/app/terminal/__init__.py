"""What a terminal sends, made safe before Textual sees it, and how it is left again."""

from __future__ import annotations

import os

from textual.driver import Driver


def usual_driver() -> type[Driver] | None:
    """The driver for this platform, None for Textual's own."""
    if os.name != "posix":
        return None
    from tracker.app.terminal.driver import TerminalDriver  # noqa: PLC0415  not on every platform

    return TerminalDriver
