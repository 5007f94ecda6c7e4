"""The screen while stitching: where, what now, the picture, what is left, the keys."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any, ClassVar, Literal

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal
from textual.events import Key, Resize
from textual.geometry import Size
from textual.message import Message
from textual.screen import Screen
from textual.timer import Timer
from textual.widget import Widget

from tracker.app.actions import bindings
from tracker.app.handsfree import HandsFree
from tracker.app.keyguard import Guard
from tracker.app.keys import is_silent
from tracker.app.look import Dress
from tracker.app.pixels import Pixels
from tracker.app.place import Place, dressed, short_words
from tracker.app.saving import SavingKeeper
from tracker.app.screens.sized import Sized
from tracker.app.screens.welcome import welcome
from tracker.app.widgets.band import Band
from tracker.app.widgets.counters import Counters
from tracker.app.widgets.foot import Foot
from tracker.app.widgets.notice import Alarm, Notice, most_lines
from tracker.app.widgets.now import Now
from tracker.app.widgets.picture import Picture
from tracker.app.widgets.place_view import PlaceView
from tracker.app.widgets.where import Where
from tracker.progress.durable import SaveError
from tracker.progress.state import utc_now
from tracker.records import record
from tracker.session import Session
from tracker.settings.model import Settings
from tracker.starting import InHand

Way = Literal["forward", "back"]
WHERE_AND_FOOT = 2
"""Lines of the place above all and of the keys below all."""
PICTURE, LEAST_PICTURE = 8, 2
"""Lines kept for the picture, and on a screen of less than 24 lines."""


class Middle(Horizontal):
    """The picture, and the counters beside it."""

    BLANK = True


class Stitching(Sized):
    """One piece in hand. What it shows as done is on the disk, or the alarm is up."""

    BINDINGS: ClassVar[list[BindingType]] = list(bindings())
    BLANK = True
    """Its parts cover it, so Textual need not find out how it looks beneath them."""

    class Left(Message):
        """The beader stops here."""

    class Learn(Message):
        """The beader wants the lesson."""

    class ThemeSwitched(Message):
        """The beader wants it dark instead of light, or the other way."""

    @record(frozen=False, slots=False)
    class Told(Message):
        """Voice or ears have something to say, from a thread of their own."""

        text: str

    @record(frozen=False, slots=False)
    class Spoken(Message):
        """A command was spoken."""

        command: str

    def __init__(
        self,
        in_hand: InHand,
        dress: Dress,
        settings: Settings,
        pressed_at: Callable[[], float],
        pixels: Pixels,
    ) -> None:
        super().__init__()
        self._pixels = pixels
        self.session = Session(in_hand, settings.words, rule=settings.rule)
        self.settings = settings
        self.dress = dress
        self.hands = HandsFree(self)
        self.saving = SavingKeeper(self)
        self._pressed_at = pressed_at
        bounce = settings.bounce / 1000
        self._guards: dict[Way, Guard] = {"forward": Guard(bounce), "back": Guard(bounce)}
        self._timer: Timer | None = None
        self._large = settings.large
        self._laid_out: Size | None = None
        self._alarm, self._notice = Alarm(id="alarm"), Notice(id="notice")
        self._now = Now(id="now")
        self._views: list[PlaceView] = [
            self._now,
            Where(id="where"),
            Picture(pixels, id="picture"),
            Counters(id="counters"),
            Band(id="band"),
            Foot(id="foot"),
        ]
        """All that show the place."""
        self._due = False
        """They are to be drawn as soon as no key waits."""
        self._doubt = False
        """The beader has not said yet that the work looks as it should."""

    def compose(self) -> ComposeResult:
        """The parts, top to bottom."""
        where, picture, counters, band, foot = self._views[1:]
        yield where
        yield self._alarm
        yield self._notice
        yield self._now
        with Middle(id="middle"):
            yield picture
            yield counters
        if self._large:
            yield from self._large_print()
        yield band
        yield foot

    def on_mount(self) -> None:
        """Say how the work should look, to whoever takes it up again."""
        self._lay_out(self.size)
        said, self._doubt = welcome(self.session, utc_now())
        short = short_words(self.session.place)
        notices = [*self.session.notices, *said, *short, self._pixels.words]
        self.say(" ".join(filter(None, notices)))
        self.hands.begin()
        self.saving.choose_journal()
        if self.settings.rest:
            self.set_interval(self.settings.rest * 60, self._suggest_rest)

    @property
    def over(self) -> bool:
        """Whether nothing of it is kept when it is left; a piece always is."""
        return False

    def on_unmount(self) -> None:
        """Leave no program behind."""
        self.hands.close()

    def on_screen_resume(self) -> None:
        """The key that led here, from the bench or the help, is none of ours."""
        for guard in self._guards.values():
            guard.overlook(self._pressed_at())

    def on_resize(self, event: Resize) -> None:
        """Lay the parts out anew; the place stays."""
        if event.size != self._laid_out:
            self._lay_out(event.size)
            self.call_after_refresh(self.show)

    def on_key(self, event: Key) -> None:
        """Any key at all pauses the tempo; those that are bound come by `action_do`."""
        if self.hands.tempo.running and not is_silent(event.key):
            self.hands.tempo.stop()

    # --- keys ------------------------------------------------------------------------------

    def action_do(self, what: str) -> None:
        """Do what a key stands for."""
        running = self.hands.tempo.running
        self.hands.tempo.stop()
        if what in ("forward", "back"):
            self._press("forward" if what == "forward" else "back")
            return
        self.settle()
        if what in self._switches:
            if what != "tempo" or not running:
                self._switches[what]()
            return
        from tracker.app.screens.dialogs import DIALOGS  # noqa: PLC0415  opening asks nothing

        DIALOGS[what](self)

    @property
    def _switches(self) -> Mapping[str, Callable[[], None]]:
        session = self.session
        return {
            "by": lambda: self.change(
                session.toggle_by, lambda: f"One press is now one {session.progress.by}."
            ),
            "words": self._change_words,
            "standing": lambda: self.say(" ".join(session.place.standing())),
            "count": self.hands.count,
            "speak": self.hands.toggle_voice,
            "listen": self.hands.toggle_ears,
            "tempo": self.hands.tempo.start,
            "large": self._toggle_large,
            "theme": self._switch_theme,
            "help": self._help,
            "leave": self._leave,
        }

    def _change_words(self) -> None:
        self.session.toggle_words()
        said = {
            "auto": "full words in the first rows",
            "full": "full words",
            "short": "short words",
        }
        self.say(f"Now {said[self.session.words]}.")

    def _toggle_large(self) -> None:
        self._large = not self._large
        if not self.query("#large"):
            self.mount(*self._large_print(), before="#band")
        self._lay_out(self.size)
        self.call_after_refresh(self.show)

    def _help(self) -> None:
        from tracker.app.screens.help import Help  # noqa: PLC0415  opening shows no help

        self.ask(Help(self.dress, self.settings.keys), self._learn)

    def _learn(self, _: object) -> None:
        self.post_message(self.Learn())

    def _switch_theme(self) -> None:
        if self.dress.mono:
            self.say("NO_COLOR is set: there is nothing to be dark or light.")
        self.post_message(self.ThemeSwitched())

    def wear(self, dress: Dress) -> None:
        """Show everything in another dress."""
        self.dress = dress
        self.say("")

    def _leave(self) -> None:
        self.saving.leave(lambda: self.post_message(self.Left()))

    def on_stitching_told(self, message: Told) -> None:
        """Show what voice or ears have to say."""
        self.say(message.text)

    def on_picture_not_drawn(self, message: Picture.NotDrawn) -> None:
        """Say why."""
        self.say(message.why)

    def on_stitching_spoken(self, message: Spoken) -> None:
        """Do what was said."""
        self.settle()
        self.hands.obey(message.command)

    def ask(self, screen: Screen[Any], then: Callable[[object], None]) -> None:
        """Put a question; `then` gets the answer, and is not called without one."""
        self.app.push_screen(screen, lambda answer: None if answer is None else then(answer))

    # --- moving ----------------------------------------------------------------------------

    def _press(self, way: Way) -> None:
        """A press of a key that may bounce or be held."""
        self._settle("back" if way == "forward" else "forward")
        guard = self._guards[way]
        for _ in range(guard.press(self._pressed_at())):
            self.step(way)
        if self._timer is not None:
            self._timer.stop()
        if guard.waiting:
            self._timer = self.set_timer(guard.quiet, self.settle)

    def settle(self) -> None:
        """Make the move of a press that waits to be found deliberate, if there is one."""
        for way in self._guards:
            self._settle(way)

    def _settle(self, way: Way) -> None:
        if self._guards[way].settle():
            self.step(way)

    def step(self, way: Way) -> None:
        """Go on or back."""
        if self._doubt and way == "forward":
            # This press says yes to the question; it is no move.
            self._doubt = False
            self.say("")
            return
        session = self.session
        self.change(session.forward if way == "forward" else session.back)

    def change(self, what: Callable[[], object], said: Callable[[], str] = str) -> None:
        """Change the piece, and show it: on the disk, or with the alarm that it is not."""
        session = self.session
        if session.read_only:
            self.say("Reading only: this piece is open in another window.")
            return
        before = session.progress
        try:
            what()
        except SaveError as error:
            self.say(f"NOT SAVED: {error}.")
            return
        if session.progress is before:
            return
        self._doubt = False
        self.say(
            " ".join(filter(None, (self.saving.changed(), said() or session.place.join_words())))
        )
        if session.progress.position != before.position:
            self.hands.voice.came_to(before.position, session.place)

    # --- showing ---------------------------------------------------------------------------

    def say(self, text: str) -> None:
        """Show a notice, or take the last one away, and everything else as it stands."""
        self._notice.say(text, self.dress)
        self.show()

    def show(self) -> None:
        """Show the place as it is."""
        place: Place = dressed(self.session.place, self.dress)
        wide, high = self.size
        self._alarm.say_all(place.alarms, self.dress, most_lines(wide))
        said = self._alarm.lines + self.lines_told()
        self._now.fit(place, wide, room_for_move(high, said, self.strip_lines(high)))
        for part in self._views:
            part.show_place(place)
        if not self._due:
            self._due = True
            self.call_later(self._draw_due)

    def _draw_due(self) -> None:
        """Draw what is to be shown: of many presses at once, where the last of them led."""
        self._due = False
        # Repainted by the screen, for each part would tell it so by messages of its own.
        if changed := [region for view in self._views for region in view.draw_due()]:
            self.refresh(*changed)

    def _lay_out(self, size: Size) -> None:
        self._laid_out = size
        wide, high = size
        for part in ("#now", "#middle"):
            self.query_one(part).display = not self._large
        for large in self.query("#large"):
            large.display = self._large
        self.query_one("#counters").display = wide >= 76
        band = self.query_one("#band")
        band.display = self.strip_lines(high) > 0 and not self._large
        band.styles.height = self.strip_lines(high)

    def _large_print(self) -> Iterator[Widget]:
        from tracker.app.widgets.large import Large  # noqa: PLC0415  few pieces open in it

        large = Large(id="large")
        self._views.append(large)
        yield large

    def lines_told(self) -> int:
        """Lines that are taken by what is said."""
        return self._notice.lines

    def strip_lines(self, high: int) -> int:
        """Lines of the strip on a screen of `high` lines."""
        return band_lines(high)

    def _suggest_rest(self) -> None:
        """A gentle word after a while."""
        minutes = self.settings.rest
        text = f"{minutes} minutes: rest your eyes on something far away, and open your hands."
        self.hands.voice.say(text)
        self.say(text)


def band_lines(high: int) -> int:
    """Lines of the strip on a screen of `high` lines."""
    return 0 if high < 20 else 3 if high < 34 else 5


def room_for_move(high: int, told: int, strip: int | None = None) -> int:
    """Lines that the move can have of `high` lines, where so many are told and `strip` drawn."""
    picture = LEAST_PICTURE if high < 24 else PICTURE
    drawn = band_lines(high) if strip is None else strip
    return max(1, high - WHERE_AND_FOOT - told - drawn - picture)
