"""The picture in words: everything that it shows, for whoever cannot see it."""

from __future__ import annotations

from collections.abc import Iterator

from tracker.path.model import Bead
from tracker.path.words import counted, listed, name_of
from tracker.pattern.lanes import Lanes
from tracker.pattern.model import Pattern
from tracker.pattern.standing import standing
from tracker.pictures.scene import Scene, scene_at


def told(pattern: Pattern, row: int, step: int) -> Iterator[str]:
    """Where the thread is, what stands open, and where each hole of the move is, a line each."""
    scene = scene_at(pattern, row, step, back=3)
    yield from standing(pattern, row, step)
    for target in scene.targets:
        hole = f"hole {target.hole} of " if target.hole else ""
        yield f"Hole {target.order}: {hole}{_where(pattern, target.bead)}."
    for held in _gone_under(pattern, row, step):
        yield f"Under: the thread between {listed([_where(pattern, bead) for bead in held])}."
    for bead in _passed_by(scene):
        yield f"Not: {_where(pattern, bead)}; it is full."
    for drawn in scene.beads:
        open_ = drawn.bead.kind == "tile" and not drawn.new and "b" not in drawn.filled
        if open_:
            yield f"Open: {_where(pattern, drawn.bead)}."
    new = [drawn.bead for drawn in scene.beads if drawn.new]
    for bead in new:
        yield f"New: {_where(pattern, bead)}."


def _gone_under(pattern: Pattern, row: int, step: int) -> Iterator[tuple[Bead, Bead]]:
    """The beads between which the threads lie that the needle goes under in a move."""
    if row < pattern.row_count:
        for _, (one, other) in pattern.row(row).steps[step].under:
            yield pattern.bead(one), pattern.bead(other)


def caps(pattern: Pattern, row: int) -> str:
    """How many seeds cap the edge at which row `row` (from 0) begins.

    "" for the strung row, and where nothing is capped: in work of seeds alone, on a tube.
    """
    if row < 1 or pattern.body != "tile" or pattern.around:
        return ""
    before = pattern.row(row - 1)
    if not before.steps[-1].turn:
        return ""
    seeds = [p for step in before.steps if step.turn for p in step.passes if not p.hole]
    edge = "upper" if before.heading == "up" else "lower"
    # The lone seed, or the group, that the turn goes round is already there.
    lone = 1 if seeds and row > 1 else 0
    number = len(seeds) + lone if seeds else 3
    return f"{counted(number, '', 'seed').replace('  ', ' ')} cap the {edge} edge at the last turn."


def _passed_by(scene: Scene) -> list[Bead]:
    return [drawn.bead for drawn in scene.beads if drawn.bead.id in scene.pass_by]


def _where(pattern: Pattern, bead: Bead) -> str:
    """A bead by colour, kind, row and lane."""
    row = pattern.row_of(bead.id)
    said = f"the {name_of(pattern, bead)} of row {row + 1}"
    lanes = Lanes(pattern)
    return f"{said}, lane {lanes.of(bead, pattern.row(row))}" if lanes.known else said
