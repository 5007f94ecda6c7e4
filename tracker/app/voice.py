"""The tracker's voice and ears, as the screen uses them. Both are off until asked for."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from tracker.place import Place
from tracker.progress.position import Position
from tracker.settings.model import Speak

if TYPE_CHECKING:
    from tracker.handsfree.sounds import Cue, Sounds
    from tracker.handsfree.speaking import Speaker


class Voice:
    """Says what the screen shows. `on_notice` may come from another thread and must not wait."""

    def __init__(self, settings: Speak, on_notice: Callable[[str], None]) -> None:
        self._settings = settings
        self._on_notice = on_notice
        self._speaker: Speaker | None = None
        self._sounds: Sounds | None = None

    @property
    def on(self) -> bool:
        """Whether it speaks."""
        return self._speaker is not None

    def toggle(self, on_speaking: Callable[[bool], None] = lambda _: None) -> bool:
        """Begin to speak, or fall silent. Whether it speaks now."""
        if self._speaker is not None:
            self.close()
            return False
        # Most never have it speak: what it takes is imported by those who do.
        from tracker.handsfree.sounds import Sounds, player_program  # noqa: PLC0415
        from tracker.handsfree.speaking import Speaker, speech_program  # noqa: PLC0415

        self._speaker = Speaker(
            speech_program(self._settings.program),
            on_notice=self._on_notice,
            on_speaking=on_speaking,
        )
        if self._settings.sounds:
            self._sounds = Sounds(player_program(), on_notice=self._on_notice)
        return True

    def came_to(self, before: Position, place: Place) -> None:
        """Say the step at a new place, with the sound that goes with it."""
        if not self.on:
            return
        from tracker.handsfree.cues import cue_for  # noqa: PLC0415  as above

        cue = cue_for(before, place)
        if cue is not None:
            self.sound(cue)
        join = place.join_words()
        self.say(f"{place.said()}. {join}" if join else place.said())

    def say(self, text: str) -> None:
        """Say a text, cutting off what is being said."""
        if self._speaker is not None:
            self._speaker.say(text)

    def sound(self, cue: Cue) -> None:
        """Play a sound."""
        if self._sounds is not None:
            self._sounds.play(cue)

    def close(self) -> None:
        """Fall silent, and leave no program behind."""
        for part in (self._speaker, self._sounds):
            if part is not None:
                part.close()
        self._speaker = self._sounds = None
