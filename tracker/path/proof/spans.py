"""The bare thread before each pass: how long it is, and which way it leaves the two beads.

All of that follows from two mouths and from how their beads lie to each other. A band has few such
spans, however long it is, so each kind is worked out once, told by all that it follows from.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from math import atan2, hypot
from typing import NamedTuple

from tracker.path.model import Bead, Hole, Pass
from tracker.path.plane import Mouths, Point, nearer


class Span(NamedTuple):
    """The bare thread from the pass before to this one."""

    long: float
    """From mouth to mouth, mm."""
    there: float
    """Which way this pass's mouth lies from the middle of the bead before (rad)."""
    back: float
    """Which way the mouth before lies from the middle of this pass's bead (rad)."""
    by_far_end: bool
    """Whether the mouth at which the needle comes out again is clearly the nearer one."""


_Key = tuple[int, str, float, Hole, bool, float, float]
"""The mouths that a span comes from, by their number; those that it leads to; and x and y of the
one bead from the other, mm."""


class Spans:
    """Measures the spans of a thread; `around` is the girth of a tube (mm), 0 for flat work."""

    def __init__(self, mouths: Mouths, beads: Mapping[int, Bead], around: float) -> None:
        self._mouths, self._beads, self._around = mouths, beads, around
        # Mouths are numbered: a number is sooner looked up than all that they are told by.
        self._numbers: dict[tuple[str, float, Hole, bool], int] = {}
        self._offsets: list[tuple[float, float, float, float]] = []
        self._known: dict[_Key, tuple[int, Span]] = {}

    def along(self, first: Pass, passes: Iterable[Pass]) -> list[Span]:
        """The span before each of the passes, that before the first of them from pass `first`."""
        beads, known = self._beads, self._known
        _, _, shape, _, (last_x, last_y, tilt) = beads[first.bead]
        mouths = self._number(shape, tilt, first.hole, first.up)
        spans = []
        for bead, hole, up, _ in passes:
            _, _, shape, _, (x, y, tilt) = beads[bead]
            key = (mouths, shape, tilt, hole, up, x - last_x, y - last_y)
            try:
                mouths, span = known[key]
            except KeyError:
                mouths, span = known[key] = self._measured(key)
            spans.append(span)
            last_x, last_y = x, y
        return spans

    def _number(self, shape: str, tilt: float, hole: Hole, up: bool) -> int:
        number = self._numbers.setdefault((shape, tilt, hole, up), len(self._numbers))
        if number == len(self._offsets):
            self._offsets.append(self._mouths.offsets(shape, tilt, hole, up))
        return number

    def _measured(self, key: _Key) -> tuple[int, Span]:
        """The number of a pass's mouths, and the span before it."""
        before, shape, tilt, hole, up, x, y = key
        number = self._number(shape, tilt, hole, up)
        _, _, out_x, out_y = self._offsets[before]
        in_x, in_y, far_x, far_y = self._offsets[number]
        span = hypot(x + in_x - out_x, nearer(y + in_y - out_y, self._around))
        to_far_end = hypot(x + far_x - out_x, nearer(y + far_y - out_y, self._around))
        return number, Span(
            span,
            self._way((x, y), (in_x, in_y), hypot(out_x, out_y)),
            self._way((-x, -y), (out_x, out_y), hypot(in_x, in_y)),
            to_far_end < span - hypot(far_x - in_x, far_y - in_y) / 4,
        )

    def _way(self, bead: Point, mouth: Point, own: float) -> float:
        """Which way a bead's mouth lies (rad); the bead from here, its mouth from the bead.

        `own` is how far the mouth lies from here where the thread goes out.
        """
        x, y = bead[0] + mouth[0], nearer(bead[1] + mouth[1], self._around)
        if hypot(x, y) < own / 4:
            # That far inside this bead it lies as good as nowhere; where its bead lies is clear.
            x, y = bead[0], nearer(bead[1], self._around)
        # Rounded, so that no last bit orders two mouths that lie in one line from a bead.
        return round(atan2(y, x), 9)
