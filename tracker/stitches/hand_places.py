"""Where the beads of rows told by hand come to lie, as far as the thread tells.

No stitch gives the geometry, so the beads are laid down as they are woven: those picked up between
two points of the thread lie on an arc from one to the other, bowed to where the band grows. Then
beads that overlap push each other apart, the newer ones first. It is a picture to find one's way
by, and it gives the thread to about a quarter; a measured swatch knows the length.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

from tracker.beads.model import Seed, Shape
from tracker.path.model import Bead, Place
from tracker.path.plane import Mouths, Point, place, wrapped
from tracker.stitches.hand_moves import Told

ROUNDS = 12
"""How often the beads of a row push each other apart."""
SHARE = 0.5
"""How much of an overlap is taken away at a time."""
CLEAR = 0.95
"""Beads touch at this share of their sizes: glass is rounded, and the thread gives."""
ACROSS = 6
"""Beads in sight of one that is pushed, in each way along the thread (their cells are searched)."""


def lay(told: Told, shapes: Mapping[str, Shape]) -> list[Place]:
    """The place of every bead (mm, degrees); `shapes` by kind."""
    laying = _Laying(told, shapes)
    for row in range(len(told.rows)):
        laying.row(row)
    return [place(x, y, wrapped(tilt)) for x, y, tilt in laying.lies]


def sizes(shape: Shape) -> tuple[float, float]:
    """Size of a bead along its hole and square to it, mm."""
    if isinstance(shape, Seed):
        return (shape.length, shape.diameter)
    return (shape.passage, shape.length)


class _Laying:
    def __init__(self, told: Told, shapes: Mapping[str, Shape]) -> None:
        self._told = told
        self._shapes = shapes
        self._mouths = Mouths({shape.name: shape for shape in shapes.values()})
        self.lies: list[tuple[float, float, float]] = []
        self._cell = max(max(sizes(shape)) for shape in shapes.values())
        self._cells: dict[tuple[int, int], list[int]] = {}
        self._out: Point = (0.0, 0.0)

    def row(self, number: int) -> None:
        """Lay a row's new beads down, then let them find their room."""
        row = self._told.rows[number]
        passes = [p for step in row.steps for p in step.passes]
        first = len(self.lies)
        i = 0
        while i < len(passes):
            if not passes[i].picked_up:
                self._out = self._ends(*passes[i][:3])[2:]
                i += 1
                continue
            j = i
            while j < len(passes) and passes[j].picked_up:
                j += 1
            run = [p.bead for p in passes[i:j]]
            target = None
            if j < len(passes) and passes[j].bead < len(self.lies):
                target = self._ends(*passes[j][:3])[:2]
            self._lay_run(run, target, upwards=passes[i].up)
            self._out = self._ends(*passes[j - 1][:3])[2:]
            i = j
        new = range(first, len(self.lies))
        for bead in new:
            self._cells.setdefault(self._cell_of(bead), []).append(bead)
        for _ in range(ROUNDS):
            for bead in new:
                self._push(bead)
        last = passes[-1] if passes else None
        if last is not None:
            self._out = self._ends(*last[:3])[2:]

    def _ends(self, bead: int, hole: str, up: bool) -> tuple[float, float, float, float]:
        x, y, tilt = self.lies[bead]
        kind, _ = self._told.beads[bead]
        shape = self._shapes[kind]
        there = Bead(bead, kind, shape.name, "", Place(x, y, tilt))
        return self._mouths.ends(there, "a" if hole == "a" else "b" if hole else "", up)

    def _lay_run(self, run: Sequence[int], target: Point | None, *, upwards: bool) -> None:
        lengths = [sizes(self._shapes[self._told.beads[bead][0]])[0] for bead in run]
        total = sum(lengths)
        start = self._out
        if target is None or math.dist(start, target) < total / 50:
            # Nothing to go to: straight on, in the row's way.
            target = (start[0], start[1] + (total if upwards else -total))
        for bead, (x, y, way) in zip(run, _on_arc(start, target, lengths), strict=True):
            kind, _ = self._told.beads[bead]
            tilt = math.degrees(way) - 90.0 + (0.0 if upwards else 180.0)
            # A tile is held by its hole a, which lies on the left of its upward way.
            aside = 0.0 if isinstance(shape := self._shapes[kind], Seed) else shape.hole_spacing / 2
            angle = math.radians(tilt)
            self.lies.append((x + aside * math.cos(angle), y + aside * math.sin(angle), tilt))

    # --- room ---------------------------------------------------------------------------------

    def _cell_of(self, bead: int) -> tuple[int, int]:
        x, y, _ = self.lies[bead]
        return (math.floor(x / self._cell), math.floor(y / self._cell))

    def _near(self, bead: int) -> Iterator[int]:
        column, row = self._cell_of(bead)
        for i in (-1, 0, 1):
            for j in (-1, 0, 1):
                for other in self._cells.get((column + i, row + j), ()):
                    if other != bead:
                        yield other

    def _push(self, bead: int) -> None:
        """Move a bead out of those that it overlaps, rather to where the band grows."""
        before = self._cell_of(bead)
        x, y, tilt = self.lies[bead]
        move_x = move_y = 0.0
        for other in self._near(bead):
            far_x, far_y, _ = self.lies[other]
            away_x, away_y = x - far_x, y - far_y
            apart = math.hypot(away_x, away_y)
            if apart < 1e-6:
                away_x, away_y, apart = 1e-3, 0.0, 1e-3
            touch = self._reach(bead, away_x, away_y) + self._reach(other, away_x, away_y)
            over = CLEAR * touch - apart
            if over > 0:
                # An older bead is held by the thread of the row that came after it.
                share = SHARE if other < bead else SHARE / 4
                move_x += share * over * (away_x / apart + 0.3)
                move_y += share * over * away_y / apart * 0.5
        self.lies[bead] = (x + move_x, y + move_y, tilt)
        after = self._cell_of(bead)
        if after != before:
            self._cells[before].remove(bead)
            self._cells.setdefault(after, []).append(bead)

    def _reach(self, bead: int, way_x: float, way_y: float) -> float:
        """Half the size of a bead in a direction, as an ellipse, mm."""
        along, across = sizes(self._shapes[self._told.beads[bead][0]])
        turned = math.atan2(way_y, way_x) - math.radians(self.lies[bead][2] + 90.0)
        return 1 / math.hypot(2 * math.cos(turned) / along, 2 * math.sin(turned) / across)


def _on_arc(
    start: Point, end: Point, lengths: Sequence[float]
) -> Iterator[tuple[float, float, float]]:
    """Middles and ways (rad) of pieces end to end from point to point, bowed towards +x."""
    total = sum(lengths)
    gap_x, gap_y = end[0] - start[0], end[1] - start[1]
    gap = math.hypot(gap_x, gap_y)
    way = math.atan2(gap_y, gap_x)
    half = _half_angle(gap / total) if gap < total else 0.0
    # Right of an upward way lies +x, where the band grows.
    side = -1 if gap_y >= 0 else 1
    done = 0.0
    for length in lengths:
        share = (done + length / 2) / total
        done += length
        if half < 1e-3:
            yield (start[0] + share * gap_x, start[1] + share * gap_y, way)
            continue
        radius = total / (2 * half)
        # Seen from the chord: the arc begins at -half and ends at +half.
        at = half * (2 * share - 1)
        along = gap / 2 + radius * math.sin(at)
        out = radius * (math.cos(at) - math.cos(half))
        cos, sin = gap_x / gap, gap_y / gap
        yield (
            start[0] + along * cos - side * out * sin,
            start[1] + along * sin + side * out * cos,
            way - side * at,
        )


def _half_angle(ratio: float) -> float:
    """Half the angle (rad) of an arc whose chord is `ratio` of its length: sin(a) / a = ratio."""
    low, high = 0.0, math.pi * 0.95
    for _ in range(50):
        middle = (low + high) / 2
        if math.sin(middle) / middle > ratio:
            low = middle
        else:
            high = middle
    return (low + high) / 2
