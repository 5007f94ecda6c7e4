"""One press is one press: a bouncing pedal or a held key must not run away. Pure.

Terminals send the same bytes for a held key as for one pressed again and again. What tells
them apart is rhythm: bounces follow within a few tens of milliseconds of their press; a held
key repeats, after some delay, faster than anybody makes two moves. So a press that comes after
such a delay waits for a moment: if others follow, it was the first repeat of a held key.
"""

from __future__ import annotations

from tracker.records import record

BOUNCE = 0.04
"""What follows a press within this time is its bounce, seconds. Settable; 0: no guard at all."""
REPEAT = 0.12
"""A held key repeats faster than this (usual: every 25 to 92 ms); deliberate presses do not."""
DELAY = (0.15, 1.2)
"""After this time a held key begins to repeat, seconds (usual: 0.2 to 1.0)."""


@record(frozen=False)
class Guard:
    """Watches the presses of one action. Times are seconds on any steady clock."""

    bounce: float = BOUNCE
    _last: float | None = None
    _waiting: bool = False

    @property
    def quiet(self) -> float:
        """Presses at least so far apart are deliberate: a waiting one is good after this time."""
        # A repeat within the bounce is overlooked, the one after it must still be too early.
        return max(REPEAT, 2 * self.bounce)

    @property
    def waiting(self) -> bool:
        """Whether a press waits to be found deliberate."""
        return self._waiting

    def press(self, at: float) -> int:
        """How many moves a press makes at once: that of the press that waited, and its own.

        If it waits itself, call `settle` once nothing has come for the time `quiet`.
        """
        if not self.bounce:
            return 1
        gap = None if self._last is None else at - self._last
        if gap is not None and gap < self.bounce:
            return 0
        self._last = at
        if gap is not None and gap < self.quiet:
            self._waiting = False
            return 0
        moves = int(self.settle())
        if gap is not None and DELAY[0] <= gap <= DELAY[1]:
            self._waiting = True
            return moves
        return moves + 1

    def settle(self) -> bool:
        """Whether a press waited: time or another key has shown that it was deliberate."""
        waited, self._waiting = self._waiting, False
        return waited

    def overlook(self, at: float) -> None:
        """A press of that time was meant for another screen: what follows it is no move here."""
        self._last = at
