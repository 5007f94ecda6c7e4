"""What the work looks like at a place: the beads that are there, and the next move among them.

A scene is all that a drawing needs, whatever it draws with: cells of a terminal, SVG, or words.
"""

from __future__ import annotations

from collections.abc import Sequence

from tracker.beads.model import Shape
from tracker.path.laid import Threads
from tracker.path.model import FIRST_END, SECOND_END, Bead, Hole, Pass, Row, Step
from tracker.path.plane import Mouths, Point, nearer
from tracker.path.words import runs_through
from tracker.pattern.model import Pattern
from tracker.records import record

DEEP = 3
"""Rows of the band that the ends are anchored in."""


@record
class Drawn:
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


@record
class Scene:
    """The beads of the last rows and the move to make."""

    beads: tuple[Drawn, ...]
    targets: tuple[Target, ...]
    pass_by: frozenset[int]
    threads: tuple[Point, ...]
    """Where the threads lie that the needle goes under in this move."""
    thread: tuple[Point, ...]
    """Where the thread of the rows shown has gone, mouth to mouth, up to now."""
    way: tuple[Point, ...]
    """The needle's way in this move, from where the thread comes out."""
    focus: Point
    """The middle of the move, to keep in view."""
    body: str = "tile"
    """The kind of bead that the band is made of, whose colours are told by letters."""
    around: float = 0.0
    """Girth of a tube, which is shown unrolled: lines end at its seam; 0 for what lies flat."""


def scene_at(pattern: Pattern, row: int, step: int, *, back: int, whole_row: bool = False) -> Scene:
    """The scene before step `step` of row `row` (both from 0), with `back` rows of earlier work.

    With `whole_row` the move is the rest of the row. `row` may be the number of rows: then the
    work is done, and there is no move. At the end with the tail, which is the other end of the
    band, the rows of the start are shown, and the thread begins anew.
    """
    shown = rows_shown(pattern, row, back)
    rows = [pattern.row(r) for r in shown]
    at = shown.index(row) if row in shown else len(shown)
    before, move = _split(rows, at, step, whole_row)
    beads = {bead.id: bead for r in rows for bead in r.beads}
    filled: dict[int, set[Hole]] = {}
    for p in before:
        filled.setdefault(p.bead, set()).add(p.hole)
    new = {p.bead for p in move if p.picked_up}
    mouths = Mouths({shape.name: shape for shape in pattern.shapes.values()})
    begun = _with_tail(rows, at, step)
    behind = before if begun is None else before[len(before) - begun :]
    thread = _way(mouths, beads, behind) if begun != 0 else _tail_mouth(mouths, rows)
    way = _way(mouths, beads, move)
    now = rows[at].steps[step : None if whole_row else step + 1] if at < len(rows) else ()
    targets = _targets(pattern, mouths, beads, rows[at], now) if now else ()
    earlier = [s for r in rows[:at] for s in r.steps]
    earlier += rows[at].steps[:step] if now else ()
    shapes = {shape.name: shape for shape in pattern.shapes.values()}
    return Scene(
        beads=tuple(
            Drawn(bead, shapes[bead.shape], bead.id in new, frozenset(filled.get(bead.id, ())))
            for bead in beads.values()
            if bead.id in filled or bead.id in new
        ),
        targets=targets,
        pass_by=frozenset(bead for s in now for bead in s.pass_by),
        threads=_threads(pattern, mouths, earlier, now),
        thread=thread,
        way=(*thread[-1:], *way),
        body=pattern.body,
        around=pattern.around,
        focus=_focus(
            pattern.around, beads, list(rows[0].steps[0].passes[:1]) if begun == 0 else before, move
        ),
    )


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
        first = max(0, min(first, pattern.woven_rows - DEEP))
    return list(range(first, min(row + 1, pattern.row_count)))


def _with_tail(rows: list[Row], at: int, step: int) -> int | None:
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


def _tail_mouth(mouths: Mouths, rows: list[Row]) -> tuple[Point, ...]:
    """Where the tail comes out: at the first bead, where the needle went in."""
    first = rows[0].steps[0].passes[0]
    x, y, _, _ = mouths.ends(rows[0].beads[0], first.hole, first.up)
    return ((x, y),)


def _split(rows: list[Row], at: int, step: int, whole_row: bool) -> tuple[list[Pass], list[Pass]]:
    """The passes made before the place, and those of the move."""
    before = [p for r in rows[:at] for s in r.steps for p in s.passes]
    move: list[Pass] = []
    if at < len(rows):
        steps = rows[at].steps
        before += [p for s in steps[:step] for p in s.passes]
        move = [p for s in steps[step : None if whole_row else step + 1] for p in s.passes]
    return before, move


def _way(mouths: Mouths, beads: dict[int, Bead], passes: list[Pass]) -> tuple[Point, ...]:
    points: list[Point] = []
    for bead, hole, up, _ in passes:
        if bead in beads:
            in_x, in_y, out_x, out_y = mouths.ends(beads[bead], hole, up)
            points += [(in_x, in_y), (out_x, out_y)]
    return tuple(points)


def _targets(
    pattern: Pattern, mouths: Mouths, beads: dict[int, Bead], row: Row, steps: tuple[Step, ...]
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


def _threads(
    pattern: Pattern, mouths: Mouths, earlier: Sequence[Step], now: Sequence[Step]
) -> tuple[Point, ...]:
    """The middle of each thread that the moves `now` go under, laid as the proof lays them.

    A thread between two beads is laid after both are picked up, so those of the rows shown are
    all in their steps, `earlier`.
    """
    if not any(step.under for step in now):
        return ()
    threads = Threads(pattern.around)
    found: list[Point] = []
    last, out = -1, (0.0, 0.0)
    for number, step in enumerate((*earlier, *now)):
        under = dict(step.under)
        for i, (bead, hole, up, _) in enumerate(step.passes):
            in_x, in_y, *then = mouths.ends(pattern.bead(bead), hole, up)
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


def _focus(around: float, beads: dict[int, Bead], before: list[Pass], move: list[Pass]) -> Point:
    near = [beads[p.bead].place for p in move or before[-1:] if p.bead in beads]
    # Of a move over the seam of a tube the middle is neither here nor there: look to its end.
    near = [place for place in near if place.y - near[-1].y == nearer(place.y - near[-1].y, around)]
    xs, ys = [place.x for place in near], [place.y for place in near]
    return ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2) if near else (0.0, 0.0)
