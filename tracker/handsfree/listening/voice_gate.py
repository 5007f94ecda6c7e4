"""Cuts a stream of sound into stretches of speech, each short enough to be a command.

Speech that runs on is let past without keeping it: no command is that long, and whoever talks is
not talking to the tracker.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable

from tracker.records import record

FRAME = 0.03
"""Seconds of sound that are judged at a time to be speech or not."""
FRAME_BYTES = 960
"""The same in bytes of 16 kHz, 16-bit sound."""
LONGEST = 2.2
"""Seconds of speech that may still be a command."""
SHORTEST = 0.3
"""Seconds of speech that may already be a command."""
PRE_ROLL = 0.5
"""Seconds kept from before speech was noticed: its first sounds are soft."""
PAUSE = 0.36
"""Seconds without speech that end a stretch."""
QUIET_BEFORE = 0.6
"""Seconds without speech that go before a command: what follows speech at once belongs to it."""

_OPENING = 5
_OPENED_BY = 4
"""So many frames of speech among the last five open the gate."""
_STEADY = 2
"""So many, among the last five, make a frame of speech count once it is open (a click does not)."""


@record
class Stretch:
    """A stretch of speech with a little of what surrounds it. Times are seconds of `sound`."""

    sound: bytes
    first: float
    """Where speech begins in it."""
    last: float
    """Where speech ends in it."""
    at: float
    """When that was, in seconds since listening began."""


class VoiceGate:
    """Takes the sound frame by frame, and gives a stretch of speech when one has ended.

    `is_speech` judges a frame of FRAME_BYTES bytes.
    """

    def __init__(self, is_speech: Callable[[bytes], bool]) -> None:
        self._is_speech = is_speech
        self._count = 0
        self._kept: deque[bytes] = deque()
        self._recent: deque[bool] = deque(maxlen=_OPENING)
        self._open = False
        self._first = self._last = 0  # frames since listening began
        self._talk_ended = -round(QUIET_BEFORE / FRAME)
        self.reset()

    def reset(self, missed: int = 0) -> None:
        """Forget what was heard, a stretch begun with it; `missed` frames were never heard."""
        self._count += missed
        self._kept.clear()
        self._recent.clear()
        self._open = False

    def feed(self, frame: bytes) -> Stretch | None:
        """Take the next frame; the stretch of speech that it ends, if it does."""
        speech = self._is_speech(frame)
        self._count += 1
        self._kept.append(frame)
        self._recent.append(speech)
        if not self._open:
            if len(self._kept) > PRE_ROLL / FRAME:
                self._kept.popleft()
            if sum(self._recent) >= _OPENED_BY:
                self._open = True
                self._first = max(self._count - _OPENING, self._count - len(self._kept))
                self._last = self._count
            return None
        if speech and sum(self._recent) >= _STEADY:
            self._last = self._count
        too_long = (self._last - self._first) * FRAME > LONGEST
        if too_long:
            self._kept.clear()
        if (self._count - self._last) * FRAME < PAUSE:
            return None
        stretch = None if too_long else self._stretch()
        if (self._last - self._first) * FRAME >= SHORTEST:
            self._talk_ended = self._last
        self.reset()
        return stretch

    def _stretch(self) -> Stretch | None:
        """What has been kept, if it may be a command."""
        short = (self._last - self._first) * FRAME < SHORTEST
        amid_talk = (self._first - self._talk_ended) * FRAME < QUIET_BEFORE
        if short or amid_talk:
            return None
        begin = self._count - len(self._kept)
        return Stretch(
            sound=b"".join(self._kept),
            first=(self._first - begin) * FRAME,
            last=(self._last - begin) * FRAME,
            at=self._last * FRAME,
        )
