"""The path of peyote woven to and fro, by one seed at a time or by two (two-drop).

The needle picks up and goes through `drop` seeds at once; so many lanes make a place of the row.

**An even number of places.** The strung row ends in a seed of the first row of beads. Row 2: pick
up, skip that, go through the next, and so on; at the end the needle comes out of the seed standing
out at the edge, and the first seed of the next row turns it: there is no more to a turn.

**An odd number.** One edge turns in the same way; at the other, where the tail hangs, the last
seed of a down row finds none standing out beyond it. Common practice, told from memory:

- In row 2, a figure of eight. After the last seed but one (C, over the third of the string) the
  needle goes through the second of the string and on through the first. Pick up the last seed (Z);
  go through the second and the third of the string upwards; then down through C, the second and
  the first; and up through Z. So the second holds four threads, and Z lies at the edge with the
  thread coming out of it towards the work.
- In the down rows after that, which find a thread lying at the edge: pick up the last seed, go
  under the thread between the two seeds below it at the edge, and back through the seed.
"""

from __future__ import annotations

from collections.abc import Callable

from tracker.design.model import Design
from tracker.path.band import Band
from tracker.path.builder import PathBuilder
from tracker.path.model import Heading, ThreadPath
from tracker.path.proof.expected import Expected
from tracker.stitches.peyote import GIVE, lies
from tracker.stitches.stitch import Colouring, shapes_of


def weave(design: Design, rows: int, drop: int, colour: Colouring) -> ThreadPath:
    """The thread path of `rows` rows (2 or more)."""
    return _Weave(design, drop, colour).path(rows)


class _Weave:
    def __init__(self, design: Design, drop: int, colour: Colouring) -> None:
        self._design, self._drop, self._colour = design, drop, colour
        self._places = design.lanes // drop
        self._odd = self._places % 2 == 1
        self._build = PathBuilder(shapes_of(design), goes_under=self._odd)
        self._up = True
        # By place, lowest lane first: the seeds strung, and those that are now on top.
        self._strung: dict[int, list[int]] = {}
        self._top: dict[int, list[int]] = {}

    def path(self, rows: int) -> ThreadPath:
        self._strung_row()
        for row in range(2, rows + 1):
            self._row(row)
        return self._build.path()

    def _strung_row(self) -> None:
        build = self._build
        build.start_row("start", "up", 0.0)
        for place in range(1, self._places + 1):
            # The last place lies low: the next row begins upon it.
            beads_row = 1 if place % 2 == self._places % 2 else 2
            self._strung[place] = []
            for lane in self._lanes(place):
                self._strung[place].append(self._pick_up(beads_row, lane))
                build.end_step(turn=lane == self._design.lanes)
        self._top |= self._strung
        build.end_row()

    def _row(self, row: int) -> None:
        self._up = bool(row % 2)
        heading: Heading = "up" if self._up else "down"
        self._build.start_row("rows", heading, lies(self._design, row + 1, 1).x)
        first = (2 if self._odd else 1) if self._up else self._places
        across = range(first, self._places + 1, 2) if self._up else range(first, 0, -2)
        for place in across:
            ahead = place + (1 if self._up else -1)
            if ahead:
                low = self._top[place]
                self._add(row, place)
                for bead in low:
                    self._build.pass_by(bead)
                self._through(self._top[ahead], up=self._up)
                if self._odd and (row, ahead) == (2, 2):
                    self._through(self._strung[1], up=False)
                self._build.end_step(turn=place == across[-1])
            elif row == 2:
                self._figure_of_eight()
            else:
                self._turn_under(row)
        self._build.end_row()

    def _figure_of_eight(self) -> None:
        """The turn of row 2, once the needle has come out of the first seed of the string."""
        strung = self._strung
        self._add(2, 1, back=True)
        self._through(strung[2], up=True)
        self._through(strung[3], up=True)
        self._build.end_step()
        self._through(self._top[3], up=False)
        self._through(strung[2], up=False)
        self._through(strung[1], up=False)
        self._through(self._top[1], up=True)
        self._build.end_step(turn=True)
        self._edge = (strung[1][0], self._top[1][0])

    def _turn_under(self, row: int) -> None:
        """The turn of every other down row: under the thread at the edge, and back."""
        self._add(row, 1)
        self._build.go_under(*self._edge)
        self._through(self._top[1], up=True)
        self._build.end_step(turn=True)
        self._edge = (self._edge[1], self._top[1][0])

    def _add(self, row: int, place: int, *, back: bool = False) -> None:
        """Pick up the seeds of a place of a row, which are then its top."""
        up = self._up != back
        lanes = self._lanes(place) if up else reversed(self._lanes(place))
        new = [self._pick_up(row + 1, lane, back=back) for lane in lanes]
        self._top[place] = new if up else new[::-1]

    def _pick_up(self, beads_row: int, lane: int, *, back: bool = False) -> int:
        return self._build.pick_up(
            self._design.own_seed.name,
            self._colour(beads_row, lane),
            lies(self._design, beads_row, lane),
            back=back,
        )

    def _through(self, beads: list[int], *, up: bool) -> None:
        for bead in beads if up else beads[::-1]:
            self._build.go_through(bead, back=up != self._up)

    def _lanes(self, place: int) -> range:
        return range((place - 1) * self._drop + 1, place * self._drop + 1)


def expected(band: Band, drop: int) -> Expected:
    """The counts, by formula.

    A seed is gone through when it is picked up and once more by the next row. Of the string only
    the places that stand out are gone through by row 2; the figure of eight goes through the
    first three of them, and the last two seeds of its row, more often.

    No bead alone holds a part, for from row 3 on two threads go from every gap to the next. With
    row 2 alone the string is a chain of triangles, each of which hangs on the seed that stands
    out between it and the next.
    """
    places, rows = band.lanes // drop, band.rows
    odd = places % 2 == 1
    passes, upward = bytearray(), bytearray()

    def places_of(*counts: tuple[int, int]) -> None:
        for gone, up in counts:
            passes.extend([gone] * drop)
            upward.extend([up] * drop)

    if odd:
        places_of((3, 1), (4, 2), (2, 2))
    for place in range(4 if odd else 1, places + 1):
        places_of((1, 1) if place % 2 == places % 2 else (2, 1))
    for row in range(2, rows + 1):
        more = 1 if row < rows else 0
        if row % 2:
            places_of(*[(1 + more, 1)] * (places // 2))
            continue
        last_but_one = (2 + more, more) if odd and row == 2 else (1 + more, more)
        places_of(*[(1 + more, more)] * (places // 2 - 1), last_but_one)
        if odd:
            places_of((2, 2) if row == 2 else (2, 1))
    seed = band.own_seed
    return Expected(
        tiles=0,
        seeds=len(passes),
        passes=bytes(passes),
        upward=bytes(upward),
        passed_by=drop * (places // 2) * (rows - 1),
        hinges=_chained(places, drop) if rows == 2 else frozenset(),
        # Round an edge from a seed to the next of its lane, or to the thread that hangs at that.
        longest_span=seed.diameter + GIVE,
        under=rows // 2 - 1 if odd else 0,
    )


def _chained(places: int, drop: int) -> frozenset[int]:
    """The seeds that stand out of a band of two rows, but for the one at the very edge."""
    first = 2 if places % 2 else 1
    out = [range((p - 1) * drop, p * drop) for p in range(first, places, 2)]
    return frozenset(bead for beads in out for bead in beads if bead)


# --- what a learner should see ----------------------------------------------------------------

_STRING = "keep the tail in hand; these seeds become the first two rows"
_FIRST = "hold the string flat: each new seed pushes the one below it down, the next one up"
_EIGHT = "from here a figure of eight: it brings the last seed to the edge"
_TIGHT = "pull tight: the thread comes out of the edge seed, towards the work"
_ROW = "the seed standing out is the high one; the low one lies in the gap"
_UNDER = "here no seed stands out: the thread between the edge's last two seeds holds the turn"


def hint_for(drop: int) -> Callable[[int, int, int], str]:
    """What a learner should see at a row and step, with so many seeds at once."""

    def hint(row: int, step: int, lanes: int) -> str:
        places = lanes // drop
        odd = places % 2 == 1
        if row == 1:
            return _STRING
        if row == 2:
            beyond = step - places // 2 if odd else 0
            return (_FIRST, _EIGHT, _TIGHT)[max(0, beyond)]
        return _UNDER if odd and not row % 2 and step > places // 2 else _ROW

    return hint
