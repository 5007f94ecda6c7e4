"""The app: which screen is shown, and every way out of it.

Whatever ends it (q, Ctrl+C, Ctrl+Q, SIGINT, SIGTERM, SIGHUP) leaves the terminal as it was found
and the exit status 0: there is nothing left to save, every move is on the disk before it is shown.
"""

from __future__ import annotations

import asyncio
import contextlib
import gc
import os
import signal
from typing import TYPE_CHECKING, Any, ClassVar

from textual.app import App
from textual.binding import Binding, BindingType
from textual.events import Event, Key
from textual.screen import Screen

from tracker.app.actions import COMMANDS, USUAL_KEYS
from tracker.app.look import Dress
from tracker.app.screens.stitching import Stitching
from tracker.problems import ProblemsError
from tracker.progress.store import Store
from tracker.settings.model import Settings
from tracker.settings.reader import read_settings, settings_path
from tracker.starting import InHand, take_up, take_up_design, take_up_loaded

if TYPE_CHECKING:
    from tracker.app.screens.bench import Bench
    from tracker.app.screens.new_band import NewBand
    from tracker.app.screens.supplies import SuppliesScreen

# A piece is opened many times a day, and of the other screens it needs none: each is imported
# when it is asked for.


class TrackerApp(App[None]):
    """The full-screen tracker."""

    CSS_PATH = "styles.tcss"
    TITLE = "tracker"
    ENABLE_COMMAND_PALETTE = False
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+q,ctrl+c", "leave_now", "quit", id="leave_now", show=False, priority=True),
        Binding("ctrl+z", "suspend_process", "suspend", id="suspend", show=False, priority=True),
    ]

    def __init__(
        self, store: Store, start: InHand | None = None, settings: Settings | None = None
    ) -> None:
        mono = "NO_COLOR" in os.environ
        # With the terminal's own colours Textual takes out every colour code under NO_COLOR.
        super().__init__(ansi_color=True if mono else None)
        self._store = store
        self._in_hand = start
        self._settings = settings or Settings()
        self._pressed_at = 0.0
        self._came_from_bench = start is None
        self.dress = Dress(mono)

    def get_default_screen(self) -> Screen[Any]:
        """The piece that was asked for, or the bench; an empty screen below would be made first."""
        if self._in_hand is not None:
            return self._stitching(self._in_hand)
        from tracker.app.screens.bench import Bench  # noqa: PLC0415

        return Bench(self._store, self.dress)

    def on_mount(self) -> None:
        """Take over the ways out, and the beader's own keys."""
        for name in ("SIGINT", "SIGTERM", "SIGHUP"):
            if hasattr(signal, name):
                # Otherwise they would end the program with the terminal still in its raw state.
                with contextlib.suppress(NotImplementedError):  # some platforms' loops have none
                    asyncio.get_running_loop().add_signal_handler(getattr(signal, name), self.exit)
        # After Ctrl+Z and `fg` nothing would be painted before the next key.
        self.app_resume_signal.subscribe(self, lambda _: self.refresh(layout=True))
        keys = self._settings.keys
        self.set_keymap({action: ",".join(own) for action, own in keys.items()})

    def on_ready(self) -> None:
        """The first frame is painted: rubbish is collected again, but not among what stays."""
        if not gc.isenabled():
            gc.freeze()
            gc.enable()

    async def on_event(self, event: Event) -> None:
        """Note when a key was pressed: it may have waited for the disk since then."""
        if isinstance(event, Key):
            self._pressed_at = event.time
        await super().on_event(event)

    def on_bench_chosen(self, event: Bench.Chosen) -> None:
        """Take up what was chosen at the bench."""
        from tracker.app.screens.bench import Bench  # noqa: PLC0415

        bench = self.screen
        if not isinstance(bench, Bench):
            return  # chosen twice by a key that bounced
        try:
            self._stitch(take_up(event.word, self._store))
        except ProblemsError as error:
            bench.say(error.lines())

    def on_bench_wanted(self, event: Bench.Wanted) -> None:
        """Open another screen from the bench."""
        from tracker.app.screens.bench import Bench  # noqa: PLC0415
        from tracker.app.screens.openings import opened  # noqa: PLC0415

        bench = self.screen
        if not isinstance(bench, Bench):
            return
        try:
            self.push_screen(opened(event.what, event.word, self._store, self.dress))
        except ProblemsError as error:
            bench.say(error.lines())

    def on_new_band_chosen(self, event: NewBand.Chosen) -> None:
        """Stitch what was designed; q leads back to the bench."""
        from tracker.app.screens.new_band import NewBand  # noqa: PLC0415

        made = self.screen
        if not isinstance(made, NewBand):
            return
        try:
            in_hand = take_up_design(event.path, self._store)
        except ProblemsError as error:
            made.say(error.lines())
            return
        self.pop_screen()
        self._stitch(in_hand)

    def on_supplies_screen_started(self, event: SuppliesScreen.Started) -> None:
        """Stitch what was counted for, the counts with it."""
        from tracker.app.screens.supplies import SuppliesScreen  # noqa: PLC0415

        counted = self.screen
        if not isinstance(counted, SuppliesScreen):
            return
        try:
            in_hand = take_up_loaded(event.loaded, self._store, on_hand=event.counts)
        except ProblemsError as error:
            counted.say(error.lines())
            return
        self.pop_screen()
        self._stitch(in_hand)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Ctrl+Z is no suspending where it takes a change back."""
        if action == "suspend_process":
            from tracker.app.screens.painting import Painter  # noqa: PLC0415

            if isinstance(self.screen, Painter):
                return False
        return super().check_action(action, parameters)

    def on_stitching_left(self) -> None:
        """Put the piece down; back to the bench if it was taken from there."""
        self._put_down()
        if self._came_from_bench:
            self.pop_screen()
        else:
            self.exit()

    def action_leave_now(self) -> None:
        """Quit from wherever we are."""
        for screen in self.screen_stack:
            if isinstance(screen, Stitching):
                screen.settle()
        self.exit()

    def on_unmount(self) -> None:
        """Let go of the piece, however we leave."""
        self._put_down()

    def _stitch(self, in_hand: InHand) -> None:
        self._in_hand = in_hand
        self.push_screen(self._stitching(in_hand))

    def _stitching(self, in_hand: InHand) -> Stitching:
        return Stitching(in_hand, self.dress, self._settings, lambda: self._pressed_at)

    def _put_down(self) -> None:
        if self._in_hand is not None:
            self._in_hand.piece.close()
            self._in_hand = None


def run_app(store: Store, word: str | None) -> int:
    """Run the app until it is left; its exit status. With `word` it opens that piece at once.

    Raises ProblemsError for a file that cannot be used, before the screen is taken.
    """
    settings = read_settings(settings_path(), actions=USUAL_KEYS, commands=COMMANDS)
    start = None if word is None else take_up(word, store)
    app = TrackerApp(store, start, settings)
    # A stray mouse report has no business here; hands are on the beads.
    app.run(mouse=False)
    return app.return_code or 0
