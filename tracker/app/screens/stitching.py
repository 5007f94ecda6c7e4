"""The screen while stitching: where, what now, the picture, what is left, the keys."""

from __future__ import annotations

from dataclasses import dataclass
from time import monotonic
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal
from textual.events import Resize
from textual.message import Message
from textual.screen import Screen
from textual.timer import Timer

from tracker.app.actions import bindings
from tracker.app.keyguard import Guard, Verdict
from tracker.app.look import Dress
from tracker.app.place import Place, Words
from tracker.app.screens.go_to import GoTo
from tracker.app.screens.help import Help
from tracker.app.widgets.band import Band
from tracker.app.widgets.counters import Counters as CountersView
from tracker.app.widgets.foot import Foot
from tracker.app.widgets.notice import Notice
from tracker.app.widgets.now import Now, height_of
from tracker.app.widgets.picture import Picture
from tracker.app.widgets.place_view import PlaceView
from tracker.app.widgets.where import Where
from tracker.progress.durable import SaveError
from tracker.progress.left import Counters
from tracker.progress.position import By, Position, back, forward, start_of_row
from tracker.progress.state import ByChanged, Event, Moved, utc_now
from tracker.starting import InHand

LEAST_SIZE = (60, 18)
"""Columns and lines below which the move and its picture do not fit together."""


class Stitching(Screen[None]):
    """One piece in hand. What it shows as done is on the disk."""

    BINDINGS: ClassVar[list[BindingType]] = list(bindings())

    @dataclass
    class Left(Message):
        """The beader stops here."""

    def __init__(self, in_hand: InHand, dress: Dress, guard: float) -> None:
        super().__init__()
        self._pattern = in_hand.pattern
        self._piece = in_hand.piece
        self._first_notices = in_hand.notices
        self._counters = Counters(in_hand.pattern)
        self._words: Words = "auto"
        self._dress = dress
        self._guards = {"forward": Guard(guard), "back": Guard(guard)}
        self._waiting: Timer | None = None

    def compose(self) -> ComposeResult:
        """The parts, top to bottom."""
        yield Where(id="where")
        yield Notice(id="notice")
        yield Now(id="now")
        with Horizontal(id="middle"):
            yield Picture(id="picture")
            yield CountersView(id="counters")
        yield Band(id="band")
        yield Foot(id="foot")

    def on_mount(self) -> None:
        """Say how the work should look, to whoever takes it up again."""
        progress = self._piece.progress
        said = list(self._first_notices)
        if progress.last_stitched is not None and not self._place().finished:
            stopped = progress.last_stitched.astimezone()
            now = " ".join(self._place().standing())
            said.append(f"You stopped {stopped:%A %d %B, %H:%M}. {now}")
        self._say(" ".join(said))

    def on_resize(self, event: Resize) -> None:
        """Lay the parts out anew; the place stays."""
        wide, high = event.size
        self.query_one("#counters").display = wide >= 76
        band = self.query_one("#band")
        band.display = high >= 20
        band.styles.height = 3 if high < 34 else 5
        self.call_after_refresh(self._show)

    # --- keys ------------------------------------------------------------------------------

    def action_forward(self) -> None:
        """Go on."""
        self._press("forward")

    def action_back(self) -> None:
        """Go back."""
        self._press("back")

    def action_by(self) -> None:
        """Go on by steps or by rows."""
        by: By = "row" if self._piece.progress.by == "step" else "step"
        if self._record(ByChanged(utc_now(), by)):
            self._say(f"One press is now one {by}.")

    def action_words(self) -> None:
        """Full words, short ones, or as the row asks for."""
        following: dict[Words, Words] = {"auto": "full", "full": "short", "short": "auto"}
        self._words = following[self._words]
        said = {
            "auto": "full words in the first rows",
            "full": "full words",
            "short": "short words",
        }
        self._say(f"Now {said[self._words]}.")

    def action_standing(self) -> None:
        """Say what the work should look like."""
        self._say(" ".join(self._place().standing()))

    def action_help(self) -> None:
        """Show the help."""
        self.app.push_screen(Help(self._dress))

    def action_go_to(self) -> None:
        """Ask for a row and go there."""

        def go(row: int | None) -> None:
            if row is not None:
                self._move_to(start_of_row(self._pattern, row - 1))

        rows = self._pattern.row_count
        self.app.push_screen(GoTo(rows, min(self._piece.progress.position.row + 1, rows)), go)

    def action_leave(self) -> None:
        """Stop here."""
        self.post_message(self.Left())

    # --- moving ----------------------------------------------------------------------------

    def _press(self, way: str) -> None:
        """A press of a key that may bounce or be held."""
        other = self._guards["back" if way == "forward" else "forward"]
        if other.settle():
            self._step("back" if way == "forward" else "forward")
        verdict = self._guards[way].press(monotonic())
        if verdict is Verdict.NOW:
            self._step(way)
        elif verdict is Verdict.LATER:
            self._wait(way)

    def _wait(self, way: str) -> None:
        if self._waiting is not None:
            self._waiting.stop()
        due = self._guards[way].due or 0.0
        self._waiting = self.set_timer(max(0.001, due - monotonic()), lambda: self._came(way))

    def _came(self, way: str) -> None:
        guard = self._guards[way]
        if guard.take(monotonic()):
            self._step(way)
        elif guard.due is not None:
            self._wait(way)

    def _step(self, way: str) -> None:
        progress = self._piece.progress
        move = forward if way == "forward" else back
        self._move_to(move(self._pattern, progress.position, progress.by))

    def _move_to(self, position: Position) -> None:
        if position != self._piece.progress.position and self._record(Moved(utc_now(), position)):
            self._say("")

    def _record(self, event: Event) -> bool:
        """Put an event on the disk; only then is it shown."""
        if self._piece.read_only:
            self._say("Reading only: this piece is open in another window.")
            return False
        try:
            self._piece.record(event)
        except SaveError as error:
            self._say(f"NOT SAVED, the place has not moved: {error}. Press again when it can be.")
            return False
        return True

    # --- showing ---------------------------------------------------------------------------

    def _place(self) -> Place:
        progress = self._piece.progress
        return Place(
            pattern=self._pattern,
            position=progress.position,
            name=self._piece.folder.name,
            by=progress.by,
            words=self._words,
            left=self._counters.at(progress.position, progress.seconds_a_row),
            read_only=self._piece.read_only,
            dress=self._dress,
        )

    def _say(self, text: str) -> None:
        """Show a notice, or take the last one away, and everything else as it stands."""
        self.query_one(Notice).say(text, self._dress)
        self._show()

    def _show(self) -> None:
        place = self._place()
        now = self.query_one(Now)
        height = height_of(place, self.size.width)
        if now.styles.height is None or now.styles.height.value != height:
            now.styles.height = height
            # The picture's own height follows; it is drawn when that is known.
            self.call_after_refresh(self._show)
            return
        for part in self.query(PlaceView):
            part.show_place(place)
