"""Saving on the screen: tries again by itself, and lets nobody leave without knowing."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from textual.timer import Timer

from tracker.keeping import CHOOSE, KEPT, SAVED_AGAIN, Keeping
from tracker.problems import ProblemsError
from tracker.progress.durable import SaveError

if TYPE_CHECKING:
    from tracker.app.screens.stitching import Stitching

CALM = 10.0
"""Seconds between tries while no key is pressed. Nothing runs while all is saved."""
AGAIN, ANEW, ELSEWHERE, QUIT = "again", "anew", "elsewhere", "quit"
LATER = "later"


class SavingKeeper:
    """Keeps watch over what one screen could not save."""

    def __init__(self, screen: Stitching) -> None:
        self._screen = screen
        self._timer: Timer | None = None
        self._asking = False

    @property
    def _keeping(self) -> Keeping:
        return self._screen.session.keeping

    def changed(self) -> str:
        """After a change: watch, or stop watching; what there is to say of it."""
        if self._keeping.unsaved.any:
            if self._timer is None:
                self._screen.hands.voice.say(self._keeping.unsaved.words())
                self._timer = self._screen.set_interval(CALM, self._try)
            return ""
        if self._timer is None:
            return ""
        self._timer.stop()
        self._timer = None
        self._screen.hands.voice.say("Saved again.")
        return SAVED_AGAIN

    def _try(self) -> None:
        self._keeping.save()
        said = self.changed()
        if said:
            self._screen.say(said)
        else:  # the reason may be another one now
            self._screen.show()

    # --- leaving -----------------------------------------------------------------------------

    def leave(self, then: Callable[[], object]) -> None:
        """Do `then`, which leaves; first ask about what is not saved, if anything."""
        if self._asking:
            return
        if self._keeping.save():
            then()
            return
        count = self._keeping.unsaved.count()
        answers = {AGAIN: "Try again to save"}
        if self._keeping.folder_gone:
            answers[ANEW] = "Make the piece's folder anew, from what is known here"
        answers[ELSEWHERE] = "Write the piece to a file elsewhere, to be imported again"
        answers[QUIT] = f"Quit without these {count}"
        self._asking = True
        from tracker.app.screens.asking import Choose  # noqa: PLC0415  most leave unasked

        def answered(answer: str | None) -> None:
            self._asking = False
            self._screen.say(self.changed())
            if answer == AGAIN:
                self.leave(then)
            elif answer == ANEW:
                self._make_anew()
            elif answer == ELSEWHERE:
                self._write_elsewhere(then)
            elif answer == QUIT:
                then()

        self._screen.app.push_screen(Choose(self._keeping.leaving_words(), answers), answered)

    def _make_anew(self) -> None:
        try:
            self._keeping.make_anew()
        except SaveError as error:
            self._screen.say(f"{error}.")
            return
        self._screen.say(self.changed())

    def _write_elsewhere(self, then: Callable[[], object]) -> None:
        from tracker.app.screens.asking import Ask  # noqa: PLC0415  hardly ever
        from tracker.progress.exported import ENDING  # noqa: PLC0415

        name = self._keeping.piece.folder.path.name

        def write(answer: object) -> None:
            try:
                self._keeping.write_elsewhere(Path(str(answer)).expanduser())
            except ProblemsError as error:
                self._screen.say(" ".join(error.lines()))
                return
            then()

        self._screen.ask(
            Ask("Write the piece to which file, on another disk?", str, value=f"{name}{ENDING}"),
            write,
        )

    # --- other journals --------------------------------------------------------------------------

    def choose_journal(self) -> None:
        """If other journals lie beside the piece's own, ask which is right."""
        others = self._keeping.others
        if not others:
            return
        from tracker.app.screens.asking import Choose  # noqa: PLC0415  few have any

        # First what a press out of habit does no harm with.
        answers = {LATER: "Decide later: this is asked when the piece is opened next"}
        answers |= {str(number): said for number, said in enumerate(self._keeping.choices())}

        def chosen(answer: object) -> None:
            if answer == LATER:
                return
            number = int(str(answer))
            try:
                self._keeping.choose(others[number - 1] if number else None)
            except (SaveError, ProblemsError) as error:
                self._screen.say(f"{error}.")
                return
            self._screen.say(" ".join([*self._screen.session.place.standing(), KEPT]))

        self._screen.ask(Choose(CHOOSE, answers), chosen)
