"""The app: which screen is shown, and every way out of it."""

from __future__ import annotations

import asyncio
import os
import signal
from typing import ClassVar

from textual.app import App
from textual.binding import Binding, BindingType

from tracker.app.keyguard import BOUNCE
from tracker.app.look import Dress
from tracker.app.screens.bench import Bench
from tracker.app.screens.stitching import Stitching
from tracker.problems import ProblemsError
from tracker.progress.store import Store
from tracker.starting import InHand, take_up

BOUNCE_VARIABLE = "TRACKER_BOUNCE_MS"
"""Presses closer than this many milliseconds are one; 0 turns the guard off."""


class TrackerApp(App[None]):
    """The full-screen tracker."""

    CSS_PATH = "styles.tcss"
    TITLE = "tracker"
    ENABLE_COMMAND_PALETTE = False
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+q,ctrl+c", "leave_now", "quit", id="leave_now", show=False, priority=True),
        Binding("ctrl+z", "suspend_process", "suspend", id="suspend", show=False, priority=True),
    ]

    def __init__(self, store: Store, start: InHand | None = None, bounce: float = BOUNCE) -> None:
        mono = "NO_COLOR" in os.environ
        # With the terminal's own colours Textual takes out every colour code under NO_COLOR.
        super().__init__(ansi_color=True if mono else None)
        self._store = store
        self._in_hand = start
        self._bounce = bounce
        self.dress = Dress(mono)

    def on_mount(self) -> None:
        """Open the piece that was asked for, or the bench."""
        for name in ("SIGTERM", "SIGHUP"):
            if hasattr(signal, name):
                # Otherwise they would end the program with the terminal still in its raw state.
                asyncio.get_running_loop().add_signal_handler(getattr(signal, name), self.exit)
        # After Ctrl+Z and `fg` nothing would be painted before the next key.
        self.app_resume_signal.subscribe(self, lambda _: self.refresh(layout=True))
        if self._in_hand is None:
            self.push_screen(Bench(self._store, self.dress))
        else:
            self._stitch(self._in_hand)

    def on_bench_chosen(self, event: Bench.Chosen) -> None:
        """Take up what was chosen at the bench."""
        try:
            self._stitch(take_up(event.word, self._store))
        except ProblemsError as error:
            bench = self.screen
            assert isinstance(bench, Bench), "only the bench sends this"
            bench.say("   ".join(error.lines()))

    def on_stitching_left(self) -> None:
        """Put the piece down; back to the bench if it was taken from there."""
        self._put_down()
        if any(isinstance(screen, Bench) for screen in self.screen_stack):
            self.pop_screen()
        else:
            self.exit()

    def action_leave_now(self) -> None:
        """Quit from wherever we are."""
        self.exit()

    def on_unmount(self) -> None:
        """Let go of the piece, however we leave."""
        self._put_down()

    def _stitch(self, in_hand: InHand) -> None:
        self._in_hand = in_hand
        self.push_screen(Stitching(in_hand, self.dress, self._bounce))

    def _put_down(self) -> None:
        if self._in_hand is not None:
            self._in_hand.piece.close()
            self._in_hand = None


def run_app(store: Store, start: InHand | None) -> int:
    """Run the app until it is left; its exit status."""
    app = TrackerApp(store, start, _bounce())
    # A stray mouse report has no business here; hands are on the beads.
    app.run(mouse=False)
    return app.return_code or 0


def _bounce() -> float:
    text = os.environ.get(BOUNCE_VARIABLE, "")
    return min(1000, int(text)) / 1000 if text.isdecimal() else BOUNCE
