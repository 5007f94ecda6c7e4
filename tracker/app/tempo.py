"""The tempo on the screen: counts in, then goes on by itself until any key."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.timer import Timer

from tracker.app.voice import Voice

if TYPE_CHECKING:
    from tracker.app.screens.stitching import Stitching
    from tracker.handsfree.tempo import Tempo


class TempoKeeper:
    """Keeps the tempo of one screen. While it is not running there is no timer."""

    def __init__(self, screen: Stitching, voice: Voice) -> None:
        self._screen = screen
        self._voice = voice
        self._timer: Timer | None = None

    @property
    def running(self) -> bool:
        """Whether it goes on by itself."""
        return self._timer is not None

    def start(self) -> None:
        """Begin with the count-in; say why not if no tempo is known."""
        from tracker.handsfree.tempo import Tempo, interval  # noqa: PLC0415  few ever start it

        screen = self._screen
        settings, progress = screen.settings.tempo, screen.session.progress
        steps = screen.session.place.left.steps if progress.by == "step" else 1
        seconds = interval(settings.seconds, progress.seconds_a_row, steps)
        if seconds is None:
            screen.say(
                "No pace is known yet: stitch three rows, or set seconds under [tempo] in the "
                "settings."
            )
            return
        self._beat(Tempo(seconds, settings.count_in))

    def stop(self) -> None:
        """Go on by hand again."""
        if self._timer is not None:
            self._timer.stop()
            self._timer = None
            self._screen.say("The tempo is paused; t starts it again.")

    def _beat(self, tempo: Tempo) -> None:
        beat, after = tempo.next()
        count = beat.count
        self._timer = self._screen.set_timer(
            max(0.001, beat.after), lambda: self._come(count, after)
        )

    def _come(self, count: int, tempo: Tempo) -> None:
        from tracker.handsfree.sounds import Cue  # noqa: PLC0415  few ever start it

        screen = self._screen
        if screen.session.place.finished:
            self.stop()
            return
        self._beat(tempo)
        if count:
            screen.say(f"{count} ...  a step every {tempo.interval:.0f} s; any key pauses.")
            self._voice.sound(Cue.COUNT_IN)
        else:
            screen.step("forward")
