"""Voice, ears and tempo of one screen: what is done while both hands are busy."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from tracker.app.ears import Ears
from tracker.app.tempo import TempoKeeper
from tracker.app.voice import Voice

if TYPE_CHECKING:
    from tracker.app.screens.stitching import Stitching
    from tracker.handsfree.listening.listener import Heard


class HandsFree:
    """Does by voice and by itself what keys do on `screen`."""

    def __init__(self, screen: Stitching) -> None:
        self._screen = screen
        self.voice = Voice(screen.settings.speak, self._told)
        self.ears = Ears(screen.settings.listen, self._heard, self._told)
        self.tempo = TempoKeeper(screen, self.voice)

    def begin(self) -> None:
        """Switch on what the settings want switched on."""
        settings = self._screen.settings
        if settings.speak.on:
            self.toggle_voice()
        if settings.listen.on:
            self.toggle_ears()

    def close(self) -> None:
        """Leave no program behind."""
        self.ears.close()
        self.voice.close()

    def toggle_voice(self) -> None:
        """Read the steps aloud, or fall silent."""
        speaking = self.voice.toggle(on_speaking=self.ears.deaf)
        self._screen.say("The steps are read aloud." if speaking else "Silent.")
        self.voice.say(self._screen.session.place.said())

    def toggle_ears(self) -> None:
        """Listen for spoken commands, or stop listening."""
        self._screen.say(self.ears.toggle())

    def count(self) -> None:
        """Say what is left."""
        counts = self._screen.session.place.counts()
        self.voice.say(counts)
        self._screen.say(counts)

    def obey(self, command: str) -> None:
        """Do what was said; every spoken move can be taken back by saying so."""
        screen = self._screen
        session = screen.session
        self.tempo.stop()
        doing: dict[str, Callable[[], None]] = {
            "forward": lambda: screen.step("forward"),
            "back": lambda: screen.step("back"),
            "undo_row": lambda: screen.change(session.undo_row),
            "repeat": lambda: self.voice.say(session.place.said()),
            "count": self.count,
            "sleep": lambda: screen.say('Not listening until you say "listen again".'),
            "wake": lambda: screen.say("Listening again."),
        }
        doing[command]()

    # Called from threads of voice and ears: a message is all that may pass from there.

    def _told(self, text: str) -> None:
        self._screen.post_message(self._screen.Told(text))

    def _heard(self, heard: Heard) -> None:
        self._screen.post_message(self._screen.Spoken(heard.command))
