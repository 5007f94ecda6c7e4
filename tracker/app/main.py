"""The app: which screen is shown, and every way out of it.

Whatever ends it (q, Ctrl+C, Ctrl+Q, SIGINT, SIGTERM, SIGHUP) leaves the terminal as it was found
and the exit status 0: there is nothing left to save, every move is on the disk before it is shown.
Only what could not be saved at all is told on standard error, with the exit status 1.
"""

from __future__ import annotations

import contextlib
import gc
import os
import sys
from functools import cached_property
from typing import TYPE_CHECKING, Any, ClassVar

from textual.binding import Binding, BindingType
from textual.driver import Driver
from textual.events import Event, Key, Resize
from textual.screen import Screen

from tracker.app import graphics
from tracker.app.actions import COMMANDS, USUAL_KEYS
from tracker.app.graphics import GraphicsKnown
from tracker.app.look import Dress
from tracker.app.pixels import Pixels
from tracker.app.screens.stitching import Stitching
from tracker.app.screens.too_small import TooSmall, fit
from tracker.app.terminal import usual_driver
from tracker.app.tones import Toned, other, worn
from tracker.problems import ProblemsError, shown
from tracker.progress.store import Store
from tracker.settings.model import Settings
from tracker.settings.reader import read_settings, settings_path
from tracker.starting import InHand, take_up, take_up_design, take_up_loaded

if TYPE_CHECKING:
    from tracker.app.screens.bench import Bench
    from tracker.app.screens.new_band import NewBand
    from tracker.app.screens.supplies import SuppliesScreen
    from tracker.lesson.keeping import Lesson

# A piece is opened many times a day, and of the other screens it needs none: each is imported
# when it is asked for.


KEPT_FOR_A_WHILE = 10_000
"""Objects after which rubbish is looked for; Python's usual 700 are half a key's."""


class TrackerApp(Toned):
    """The full-screen tracker."""

    CSS_PATH = "styles.tcss"
    TITLE = "tracker"
    ENABLE_COMMAND_PALETTE = False
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+q,ctrl+c", "leave_now", "quit", id="leave_now", show=False, priority=True),
        Binding("ctrl+z", "suspend_process", "suspend", id="suspend", show=False, priority=True),
    ]

    def __init__(
        self,
        store: Store,
        start: InHand | None = None,
        settings: Settings | None = None,
        *,
        learn: bool = False,
        driver_class: type[Driver] | None = None,
        why_cells: str = "",
    ) -> None:
        mono = "NO_COLOR" in os.environ
        settings = settings or Settings()
        tones = worn(settings.theme, os.environ)
        # With the terminal's own colours Textual takes out every colour code under NO_COLOR.
        super().__init__(
            tones, driver_class=driver_class or usual_driver(), ansi_color=True if mono else None
        )
        self._store = store
        self._start = start
        self._open: list[Stitching] = []
        """The pieces that are open: one, or one and the lesson over it."""
        self.lost: list[str] = []
        """What could not be saved, in words."""
        self._learn = self._lesson.take_up() if learn else None
        self._settings = settings
        wished = self._settings.picture == "pixels"
        self._pixels = Pixels(self._send, why_cells, wished=wished)
        self._pressed_at = 0.0
        self.dress = Dress(mono).wearing(tones)

    def get_default_screen(self) -> Screen[Any]:
        """The piece that was asked for, or the bench; an empty screen below would be made first."""
        if self._start is not None:
            self._open.append(self._stitching(self._start))
            return self._open[-1]
        from tracker.app.screens.bench import Bench  # noqa: PLC0415

        return Bench(self._store, self.dress, self._lesson)

    @cached_property
    def _lesson(self) -> Lesson:
        from tracker.lesson.keeping import Lesson  # noqa: PLC0415

        return Lesson(self._store.home)

    def on_mount(self) -> None:
        """Take over the beader's own keys, and open the lesson if it was asked for."""
        # After Ctrl+Z and `fg` nothing would be painted before the next key.
        self.app_resume_signal.subscribe(self, lambda _: self._paint_anew())
        keys = self._settings.keys
        self.set_keymap({action: ",".join(own) for action, own in keys.items()})
        if self._learn is not None:
            self._teach(self._learn)
        fit(self)

    def on_ready(self) -> None:
        """The first frame is painted: rubbish is collected again, but not among what stays."""
        if not gc.isenabled():
            gc.freeze()
            # What a key makes goes by itself; looking for the rest costs more than it weighs.
            gc.set_threshold(KEPT_FOR_A_WHILE, 20, 20)
            gc.enable()

    def on_resize(self, event: Resize) -> None:
        """Ask for more room where there is too little."""
        fit(self, event.size)

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
            if event.what == "learn":
                self._teach(self._lesson.take_up())
            else:
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

    def on_stitching_learn(self) -> None:
        """The lesson, over the piece in hand, which stays as it is."""
        from tracker.app.screens.lesson import LessonScreen  # noqa: PLC0415

        stitching = self.screen
        if not isinstance(stitching, Stitching) or isinstance(stitching, LessonScreen):
            return
        try:
            self._teach(self._lesson.take_up())
        except ProblemsError as error:
            stitching.say(" ".join(error.lines()))

    def on_stitching_theme_switched(self) -> None:
        """Go over to the other theme, the bench behind the work too."""
        if self.dress.mono:
            return
        from tracker.app.screens.bench import Bench  # noqa: PLC0415

        tones = other(self.dress.tones)
        self.dress = self.dress.wearing(tones)
        self.put_on(tones)
        for screen in self.screen_stack:
            if isinstance(screen, Stitching | Bench):
                screen.wear(self.dress)

    def on_stitching_left(self) -> None:
        """Put the piece down; back to where it was taken up."""
        if isinstance(self.screen, TooSmall):
            self.pop_screen()
        if not isinstance(self.screen, Stitching):
            return  # left twice by a key that bounced
        over = self.screen.over
        self._put_down()
        if over:
            self._lesson.forget()
        if len(self.screen_stack) == 1:
            self.exit()
            return
        self.pop_screen()
        if self.lost:
            from tracker.app.screens.bench import Bench  # noqa: PLC0415

            below = self.screen_stack[-1]
            if isinstance(below, Bench):
                below.say(self.lost)
        fit(self)

    def action_leave_now(self) -> None:
        """Quit from wherever we are."""
        for screen in self._open:
            screen.settle()
        self._leave_all(list(self._open))

    def _leave_all(self, waiting: list[Stitching]) -> None:
        """Leave one piece after the other, each once it is saved or given up, then quit."""
        if waiting:
            waiting.pop().saving.leave(lambda: self._leave_all(waiting))
        else:
            self.exit()

    def on_unmount(self) -> None:
        """Let go of the pieces, however we leave."""
        while self._open:
            self._put_down()
        self._pixels.close()

    def on_graphics_known(self, event: GraphicsKnown) -> None:
        """The terminal has said whether it shows pixels."""
        self._pixels.found(event.way)
        for screen in self.screen_stack:
            if isinstance(screen, Stitching) and screen.is_mounted:
                screen.say(self._pixels.words) if self._pixels.words else screen.show()

    def _paint_anew(self) -> None:
        """All that the terminal had is gone."""
        self._pixels.forget()
        for screen in self.screen_stack:
            if isinstance(screen, Stitching):
                screen.show()
        self.refresh(layout=True)

    def _send(self, sequences: str) -> None:
        """Send to the terminal what is no text, between two frames."""
        if self._driver is not None and not self.is_headless:
            self._driver.write(sequences)

    def _stitch(self, in_hand: InHand) -> None:
        self._take(self._stitching(in_hand))

    def _stitching(self, in_hand: InHand) -> Stitching:
        return Stitching(
            in_hand, self.dress, self._settings, lambda: self._pressed_at, self._pixels
        )

    def _teach(self, in_hand: InHand) -> None:
        from tracker.app.screens.lesson import LessonScreen  # noqa: PLC0415

        self._take(
            LessonScreen(
                self._lesson,
                in_hand,
                self.dress,
                self._settings,
                lambda: self._pressed_at,
                self._pixels,
            )
        )

    def _take(self, screen: Stitching) -> None:
        self._open.append(screen)
        self.push_screen(screen)

    def _put_down(self) -> None:
        if self._open:
            lost = self._open.pop().session.close()
            self.lost += [lost] if lost else []


def run_app(store: Store, word: str | None, *, learn: bool = False) -> int:
    """Run the app until it is left; its exit status. With `word` it opens that piece at once.

    With `learn` it opens the lesson, over the bench.

    Raises ProblemsError for a file that cannot be used, before the screen is taken.
    """
    settings = read_settings(settings_path(), actions=USUAL_KEYS, commands=COMMANDS)
    start = None if word is None else take_up(word, store)
    why_cells = "so it is set" if settings.picture == "cells" else graphics.why_cells(os.environ)
    driver = None if why_cells else _asking_driver()
    app = TrackerApp(store, start, settings, learn=learn, driver_class=driver, why_cells=why_cells)
    # A stray mouse report has no business here; hands are on the beads.
    app.run(mouse=False)
    with contextlib.suppress(OSError):  # the terminal may have gone
        for lost in app.lost:
            print(f"tracker: {shown(lost)}", file=sys.stderr)  # noqa: T201  the screen is gone
    try:
        sys.stderr.flush()
    except OSError:
        # Python would try once more as it ends, and take that for a failure of ours.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stderr.fileno())
    return 1 if app.lost else app.return_code or 0


def _asking_driver() -> type[Driver]:
    from tracker.app.asking_driver import AskingDriver  # noqa: PLC0415  not on every platform

    return AskingDriver
