"""What the work looks like at a place: the beads that are there, and the next move among them.

A scene is all that a drawing needs, whatever it draws with: cells of a terminal, SVG, or words.
"""

from __future__ import annotations

from dataclasses import dataclass

from tracker.beads.model import Shape
from tracker.path.model import Bead, Hole, Pass, Row
from tracker.path.plane import Mouths, Point
from tracker.pattern.model import Pattern


@dataclass(frozen=True, slots=True)
class Drawn:
    """A bead in the picture."""

    bead: Bead
    shape: Shape
    new: bool
    """Picked up by the move that is shown, and not before it."""
    filled: frozenset[Hole]
    """Holes with thread in them before the move; the others stand open."""


@dataclass(frozen=True, slots=True)
class Target:
    """A hole to go through in this move. `order` counts from 1."""

    order: int
    bead: Bead
    hole: Hole
    centre: Point


@dataclass(frozen=True, slots=True)
class Scene:
    """The beads of the last rows and the move to make."""

    beads: tuple[Drawn, ...]
    targets: tuple[Target, ...]
    pass_by: frozenset[int]
    thread: tuple[Point, ...]
    """Where the thread of the rows shown has gone, mouth to mouth, up to now."""
    way: tuple[Point, ...]
    """The needle's way in this move, from where the thread comes out."""
    focus: Point
    """The middle of the move, to keep in view."""


def scene_at(pattern: Pattern, row: int, step: int, *, back: int, whole_row: bool = False) -> Scene:
    """The scene before step `step` of row `row` (both from 0), with `back` rows of earlier work.

    With `whole_row` the move is the rest of the row. `row` may be the number of rows: then the
    work is done, and there is no move.
    """
    first = max(0, row - back)
    rows = [pattern.row(r) for r in range(first, min(row + 1, pattern.row_count))]
    before, move = _split(rows, row - first, step, whole_row)
    beads = {bead.id: bead for r in rows for bead in r.beads}
    filled: dict[int, set[Hole]] = {}
    for p in before:
        filled.setdefault(p.bead, set()).add(p.hole)
    new = {p.bead for p in move if p.picked_up}
    mouths = Mouths({shape.name: shape for shape in pattern.shapes.values()})
    thread = _way(mouths, beads, before)
    way = _way(mouths, beads, move)
    targets = _targets(mouths, beads, move)
    now = rows[row - first].steps[step : None if whole_row else step + 1] if move else ()
    shapes = {shape.name: shape for shape in pattern.shapes.values()}
    return Scene(
        beads=tuple(
            Drawn(bead, shapes[bead.shape], bead.id in new, frozenset(filled.get(bead.id, ())))
            for bead in beads.values()
            if bead.id in filled or bead.id in new
        ),
        targets=targets,
        pass_by=frozenset(bead for s in now for bead in s.pass_by),
        thread=thread,
        way=(*thread[-1:], *way),
        focus=_focus(beads, before, move),
    )


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


def _targets(mouths: Mouths, beads: dict[int, Bead], move: list[Pass]) -> tuple[Target, ...]:
    """The holes to go through, those of one run of seeds as one: the middle seed bears it."""
    targets: list[Target] = []
    run: list[Pass] = []
    for p in [*move, None]:
        goes = p is not None and not p.picked_up and p.bead in beads
        if run and (p is None or not goes or p.hole or run[-1].hole):
            middle = run[len(run) // 2]
            x1, y1, x2, y2 = mouths.ends(beads[middle.bead], middle.hole, middle.up)
            centre = ((x1 + x2) / 2, (y1 + y2) / 2)
            targets.append(Target(len(targets) + 1, beads[middle.bead], middle.hole, centre))
            run = []
        if goes and p is not None:
            run.append(p)
    return tuple(targets)


def _focus(beads: dict[int, Bead], before: list[Pass], move: list[Pass]) -> Point:
    near = [beads[p.bead].place for p in move or before[-1:] if p.bead in beads]
    xs, ys = [place.x for place in near], [place.y for place in near]
    return ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2) if near else (0.0, 0.0)
