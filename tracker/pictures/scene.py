"""What the work looks like at a place: the beads that are there, and the next move among them.

A scene is all that a drawing needs, whatever it draws with: cells of a terminal, SVG, or words.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import field
from functools import cached_property, lru_cache
from typing import NamedTuple

from tracker.beads.model import Shape
from tracker.path.laid import Threads
from tracker.path.model import FIRST_END, SECOND_END, Bead, Hole, Pass, Row, Step, threaded_by
from tracker.path.plane import Mouths, Point, nearer
from tracker.path.words import runs_through
from tracker.pattern.model import Pattern
from tracker.records import record

DEEP = 3
"""Rows of the band that the ends are anchored in."""


class Drawn(NamedTuple):
    """A bead in the picture."""

    bead: Bead
    shape: Shape
    new: bool
    """Picked up by the move that is shown, and not before it."""
    filled: frozenset[Hole]
    """Holes with thread in them before the move; the others stand open."""


@record
class Target:
    """A hole to go through in this move. `order` counts from 1."""

    order: int
    bead: Bead
    hole: Hole
    centre: Point


@record(slots=False)
class Scene:
    """The beads of the last rows and the move to make."""

    targets: tuple[Target, ...]
    pass_by: frozenset[int]
    threads: tuple[Point, ...]
    """Where the threads lie that the needle goes under in this move."""
    settled: tuple[Drawn, ...]
    """Those beads that the row in work leaves as they are: the very same for all its steps."""
    others: tuple[Drawn, ...]
    """The other beads."""
    laid: Callable[[], tuple[Point, ...]] = field(compare=False, repr=False)
    """What finds `thread`, which the cells do not show."""
    way: tuple[Point, ...]
    """The needle's way in this move, from where the thread comes out."""
    focus: Point
    """The middle of the move, to keep in view."""
    shapes: tuple[Shape, ...]
    """Of all beads of the piece."""
    body: str = "tile"
    """The kind of bead that the band is made of, whose colours are told by letters."""
    around: float = 0.0
    """Girth of a tube, which is shown unrolled: lines end at its seam; 0 for what lies flat."""

    @cached_property
    def beads(self) -> tuple[Drawn, ...]:
        """All beads, in the order of picking up."""
        return tuple(sorted((*self.settled, *self.others), key=lambda drawn: drawn.bead.id))

    @cached_property
    def thread(self) -> tuple[Point, ...]:
        """Where the thread of the rows shown has gone, mouth to mouth, up to now."""
        return self.laid()


def scene_at(pattern: Pattern, row: int, step: int, *, back: int, whole_row: bool = False) -> Scene:
    """The scene before step `step` of row `row`: see `Scenes`."""
    return Scenes(pattern).at(row, step, back=back, whole_row=whole_row)


class Scenes:
    """The scenes of a pattern. What lies behind a row is looked at once for all its steps."""

    def __init__(self, pattern: Pattern) -> None:
        self.pattern = pattern
        self._behind = lru_cache(maxsize=2)(self._look_behind)

    def at(
        self,
        row: int,
        step: int,
        *,
        back: int,
        whole_row: bool = False,
        seen: Callable[[Point], tuple[float, float]] = lambda _: (-math.inf, math.inf),
    ) -> Scene:
        """The scene before step `step` of row `row` (from 0), with `back` rows of earlier work.

        With `whole_row` the move is the rest of the row. `row` may be the number of rows: then the
        work is done, and there is no move. At the end with the tail, which is the other end of the
        band, the rows of the start are shown, and the thread begins anew. `seen` tells from which
        height to which (mm) the beads are looked at, by the middle of the move.
        """
        pattern = self.pattern
        shown = tuple(rows_shown(pattern, row, back))
        at = shown.index(row) if row in shown else len(shown)
        behind = self._behind(shown, at)
        rows = behind.rows
        there = rows[at].steps if at < len(rows) else ()
        now = there[step : None if whole_row else step + 1]
        work = _Work(pattern, rows[:at], there[:step], behind.beads)
        begun = _with_tail(rows, at, step)
        start = rows[0].steps[0].passes[:1] if begun == 0 else work.last
        move = [p for s in now for p in s.passes]
        new = {p.bead for p in move if p.picked_up}
        focus = _focus(pattern.around, work.beads, start, move)
        out = _tail_mouth(work.mouths, rows) if begun == 0 else work.way(work.last)[-1:]
        low, high = seen(focus)
        settled = behind.settled.between(low, high)
        made = threaded_by(there[:step])
        others = [_after(drawn, made) for drawn in behind.open.between(low, high)]
        others += [
            self._drawn(bead, made.get(bead.id, _NO_HOLES), new=bead.id in new)
            for bead in (rows[at].beads if there else ())
            if (bead.id in made or bead.id in new) and low <= bead.place.y <= high
        ]
        return Scene(
            settled=settled,
            others=tuple(others),
            targets=_targets(pattern, work.mouths, work.beads, rows[at], now) if now else (),
            pass_by=frozenset(bead for s in now for bead in s.pass_by),
            threads=_threads(pattern, work, now),
            laid=lambda: out if begun == 0 else work.way(work.passes()[-(begun or 0) :]),
            way=(*out, *work.way(move)),
            shapes=tuple(pattern.by_name.values()),
            body=pattern.body,
            around=pattern.around,
            focus=focus,
        )

    def _look_behind(self, shown: tuple[int, ...], at: int) -> _Behind:
        rows = [self.pattern.row(r) for r in shown]
        beads = {bead.id: bead for r in rows for bead in r.beads}
        filled = threaded_by(s for r in rows[:at] for s in r.steps)
        drawn = {
            bead: self._drawn(beads[bead], filled[bead], new=False)
            for r in rows[:at]
            for bead in (bead.id for bead in r.beads)
        }
        touched = {p.bead for r in rows[at:] for s in r.steps for p in s.passes}
        touched |= {bead for r in rows[at:] for s in r.steps for bead in s.pass_by}
        return _Behind(
            rows=rows,
            beads=beads,
            settled=_Heights(each for bead, each in drawn.items() if bead not in touched),
            open=_Heights(each for bead, each in drawn.items() if bead in touched),
        )

    def _drawn(self, bead: Bead, filled: frozenset[Hole], *, new: bool) -> Drawn:
        return Drawn(bead, self.pattern.by_name[bead.shape], new, filled)


_NO_HOLES: frozenset[Hole] = frozenset()


def _after(drawn: Drawn, made: Mapping[int, frozenset[Hole]]) -> Drawn:
    """A bead after the needle has been in the holes `made`."""
    holes = made.get(drawn.bead.id)
    return drawn if holes is None else drawn._replace(filled=drawn.filled | holes)


class _Heights:
    """Beads by how high they lie, so that of a wide band those near the move are soon found."""

    def __init__(self, beads: Iterable[Drawn]) -> None:
        self._beads = tuple(sorted(beads, key=lambda drawn: drawn.bead.place.y))
        self._ys = [drawn.bead.place.y for drawn in self._beads]
        self._part = lru_cache(maxsize=4)(lambda first, behind: self._beads[first:behind])

    def between(self, low: float, high: float) -> tuple[Drawn, ...]:
        """Those that lie from `low` to `high` (mm): the very same as long as they are the same."""
        return self._part(bisect_left(self._ys, low), bisect_right(self._ys, high))


@record(kw_only=True)
class _Behind:
    """What lies behind a row: the rows shown, their beads, and how those look as it begins."""

    rows: Sequence[Row]
    beads: Mapping[int, Bead]
    settled: _Heights
    """Beads that the row leaves as they are."""
    open: _Heights
    """Beads that it goes through or by."""


class _Work:
    """What is done before the move: whole rows, and the steps `made` of the next."""

    def __init__(
        self,
        pattern: Pattern,
        rows: Sequence[Row],
        made: Sequence[Step],
        beads: Mapping[int, Bead],
    ) -> None:
        self._rows, self._made = rows, made
        self.mouths = pattern.mouths
        self.beads = beads

    @property
    def steps(self) -> list[Step]:
        """All that was done, in order."""
        return [*(s for r in self._rows for s in r.steps), *self._made]

    def passes(self) -> list[Pass]:
        """All passes, in order."""
        return [p for s in self.steps for p in s.passes]

    @property
    def last(self) -> list[Pass]:
        """The last pass, if there is one."""
        for steps in (self._made, *(r.steps for r in reversed(self._rows))):
            for s in reversed(steps):
                if s.passes:
                    return [s.passes[-1]]
        return []

    def way(self, passes: Iterable[Pass]) -> tuple[Point, ...]:
        """Where the thread goes in these passes, mouth to mouth."""
        points: list[Point] = []
        for bead, hole, up, _ in passes:
            if bead in self.beads:
                in_x, in_y, out_x, out_y = self.mouths.ends(self.beads[bead], hole, up)
                points += [(in_x, in_y), (out_x, out_y)]
        return tuple(points)


def rows_shown(pattern: Pattern, row: int, back: int) -> list[int]:
    """The rows (from 0) of a scene, in order: this one and what is needed to see where it lies.

    At the two ends the needle goes three rows deep into the band, so as much is shown there, with
    all rows of the end that come before.
    """
    names = pattern.section_names
    last = min(row, pattern.row_count - 1)
    section = names[last]
    if section == SECOND_END:
        begin = names.index(SECOND_END)
        return [*range(min(DEEP + back, begin)), *range(begin, min(row + 1, pattern.row_count))]
    first = max(0, row - back)
    if section == FIRST_END:
        first = max(0, pattern.woven_rows - max(DEEP, back))
    return list(range(first, min(row + 1, pattern.row_count)))


def _with_tail(rows: Sequence[Row], at: int, step: int) -> int | None:
    """How many passes have been made with the tail; None before its end is come to."""
    if rows[-1].section != SECOND_END:
        return None
    done = [r.steps if i < at else r.steps[:step] for i, r in enumerate(rows[: at + 1])]
    return sum(
        len(s.passes)
        for row, steps in zip(rows, done, strict=False)
        for s in steps
        if row.section == SECOND_END
    )


def _tail_mouth(mouths: Mouths, rows: Sequence[Row]) -> tuple[Point, ...]:
    """Where the tail comes out: at the first bead, where the needle went in."""
    first = rows[0].steps[0].passes[0]
    x, y, _, _ = mouths.ends(rows[0].beads[0], first.hole, first.up)
    return ((x, y),)


def _targets(
    pattern: Pattern, mouths: Mouths, beads: Mapping[int, Bead], row: Row, steps: tuple[Step, ...]
) -> tuple[Target, ...]:
    """The holes to go through, in the runs in which they are spoken of.

    The middle bead of a run bears its number.
    """
    targets: list[Target] = []
    for step in steps:
        for run in runs_through(pattern, row, step):
            there = [p for p in run if p.bead in beads]
            if there:
                middle = there[len(there) // 2]
                x1, y1, x2, y2 = mouths.ends(beads[middle.bead], middle.hole, middle.up)
                centre = ((x1 + x2) / 2, (y1 + y2) / 2)
                targets.append(Target(len(targets) + 1, beads[middle.bead], middle.hole, centre))
    return tuple(targets)


def _threads(pattern: Pattern, work: _Work, now: Sequence[Step]) -> tuple[Point, ...]:
    """The middle of each thread that the moves `now` go under, laid as the proof lays them.

    A thread between two beads is laid after both are picked up, so those of the rows shown are
    all in their steps.
    """
    if not any(step.under for step in now):
        return ()
    earlier = work.steps
    threads = Threads(pattern.around)
    found: list[Point] = []
    last, out = -1, (0.0, 0.0)
    for number, step in enumerate((*earlier, *now)):
        under = dict(step.under)
        for i, (bead, hole, up, _) in enumerate(step.passes):
            in_x, in_y, *then = work.mouths.ends(pattern.bead(bead), hole, up)
            if i in under:
                line = threads.nearest(*under[i], out)
                if line is not None:
                    if last != -1:
                        threads.hang(last, out, under[i], line)
                    threads.hang(bead, (in_x, in_y), under[i], line)
                    if number >= len(earlier):
                        (x, y), (to_x, to_y) = line
                        found.append(((x + to_x) / 2, (y + to_y) / 2))
            elif last not in (-1, bead):
                threads.lay(last, out, bead, (in_x, in_y))
            last, out = bead, (then[0], then[1])
    return tuple(found)


def _focus(
    around: float, beads: Mapping[int, Bead], before: Iterable[Pass], move: Sequence[Pass]
) -> Point:
    near = [beads[p.bead].place for p in move or before if p.bead in beads]
    # Of a move over the seam of a tube the middle is neither here nor there: look to its end.
    near = [place for place in near if place.y - near[-1].y == nearer(place.y - near[-1].y, around)]
    xs, ys = [place.x for place in near], [place.y for place in near]
    return ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2) if near else (0.0, 0.0)
