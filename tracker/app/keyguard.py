"""One press is one press: a bouncing pedal or a held key must not run away. Pure.

Terminals send the same bytes for a held key as for one pressed again and again. What tells
them apart is rhythm: a bounce follows within a few tens of milliseconds; auto-repeat starts
after some delay and then goes on faster than anybody presses. So a press that may be the first
of a repeat waits for a moment: if another comes at once, it was no press.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

BOUNCE = 0.04
"""Presses closer than this are one, seconds. Settable; 0 turns the guard off."""
REPEAT = 0.1
"""Auto-repeat is faster than this (usual: 25 to 92 ms); people are not, for long."""
DELAY = (0.15, 1.2)
"""After this time a held key begins to repeat, seconds (usual: 0.2 to 1.0)."""


class Verdict(Enum):
    """What to do with a press."""

    NOW = "now"
    LATER = "later"
    """If nothing comes until `Guard.due`."""
    NEVER = "never"


@dataclass(slots=True)
class Guard:
    """Watches the presses of one action. Times are seconds on any steady clock."""

    bounce: float = BOUNCE
    _last: float | None = None
    _waiting: float | None = None
    _held: bool = False

    def press(self, now: float) -> Verdict:
        """Judge a press."""
        gap = None if self._last is None else now - self._last
        self._last = now
        if not self.bounce or gap is None:
            return Verdict.NOW
        if gap < self.bounce or (gap < REPEAT and (self._held or self._waiting is not None)):
            self._held = self._held or self._waiting is not None
            self._waiting = None
            return Verdict.NEVER
        self._held = False
        if DELAY[0] <= gap <= DELAY[1]:
            self._waiting = now
            return Verdict.LATER
        return Verdict.NOW

    @property
    def due(self) -> float | None:
        """When the press that waits becomes good; None if none waits."""
        return None if self._waiting is None else self._waiting + REPEAT

    def take(self, now: float) -> bool:
        """Whether the press that waited is good by now; it waits no longer if so."""
        if self.due is None or now < self.due:
            return False
        self._waiting = None
        return True

    def settle(self) -> bool:
        """Whether a press waits that another key's press shows to be deliberate."""
        waiting, self._waiting = self._waiting is not None, None
        return waiting
