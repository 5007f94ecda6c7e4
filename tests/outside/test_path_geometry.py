"""The band's measures and outlines against layouts relaxed on a taut thread, shapely and numpy.

The relaxed figures come from rigid half tiles (5.0 x 2.3 mm) and 15/0 seeds (1.5 x 1.1 mm) that
settled on an inextensible thread, bodies not overlapping, from several starts.
"""

import math
from itertools import combinations

import numpy as np
import pytest
from shapely import (  # type: ignore[import-untyped]  # it carries no types
    LineString,
    Point,
    Polygon,
    box,
    unary_union,
)
from shapely.affinity import rotate  # type: ignore[import-untyped]  # as above
from weaving import STITCH, a_design, beads_of, passes_of, tile_of, wide_tile, woven

from tracker.path.model import Bead, Hole, ThreadPath
from tracker.path.plane import Mouths

# hole spacing, columns: row pitch, column width, thread per row (mm)
RELAXED = {
    (2.8, 2): (2.428, 5.615, 20.8),
    (3.0, 2): (2.368, 5.821, 20.4),
    (3.0, 3): (2.367, 5.808, 29.1),
    (3.2, 2): (2.349, 5.863, 20.0),
}
SPACINGS = (2.8, 3.0, 3.2, 3.65)
"""Where the closed form holds: under l - 2 L = 2.8 mm a neighbour's side covers the mouths."""
ROUNDED = 0.033
"""Places are kept to 0.01 mm: two tiles whose sides touch along 2.3 mm may seem to overlap by
2.3 mm times sqrt(2) x 0.01 mm, in mm2."""


def outline(path: ThreadPath, bead: Bead) -> Polygon:
    """A tile's outline, turned by shapely."""
    tile = wide_tile(path)
    x, y, tilt = bead.place
    half_l, half_w = tile.length / 2, tile.passage / 2
    return rotate(box(x - half_l, y - half_w, x + half_l, y + half_w), tilt)


def tiles_in(path: ThreadPath) -> list[Bead]:
    """All tiles of a path."""
    return [bead for bead in beads_of(path).values() if bead.kind == "tile"]


@pytest.mark.parametrize(("spacing", "columns"), RELAXED)
def test_pitch_column_and_thread_near_the_relaxed_band(spacing: float, columns: int) -> None:
    """Row pitch within 2.5 %, column width within 6 %, thread per row within 7 % of relaxed."""
    pitch, column, thread = RELAXED[spacing, columns]
    path = woven(columns, 14, spacing=spacing)
    beads = beads_of(path)
    places = {(r, c): beads[tile_of(path, r, c)].place for r in range(1, 15) for c in range(1, 3)}
    assert pytest.approx(pitch, rel=0.025) == (places[13, 1].x - places[3, 1].x) / 10
    # Places are kept to 0.01 mm.
    assert pytest.approx(column, abs=0.06 * column + 0.01) == places[5, 2].y - places[5, 1].y
    assert pytest.approx(thread, rel=0.07) == np.mean([row.thread for row in path.rows[2:]])


def test_length_of_a_band() -> None:
    """L(R) = 3.1 + 2.40 R for half tile and 15/0: the constant to 0.5 mm, the pitch to 4 %."""
    gauge = STITCH.gauge(a_design(2, 60))
    assert pytest.approx(3.1, abs=0.5) == gauge.start
    assert pytest.approx(2.40, rel=0.04) == gauge.pitch
    for rows in range(2, 100):
        low, high = gauge.length_range(rows)
        assert low < 3.1 + 2.40 * rows < high


@pytest.mark.parametrize("spacing", SPACINGS)
@pytest.mark.parametrize(("columns", "rows"), [(2, 14), (3, 14), (5, 9)])
def test_no_two_tiles_overlap(columns: int, rows: int, spacing: float) -> None:
    """Tiles touch, as rigid bodies may, and do not run into each other."""
    path = woven(columns, rows, spacing=spacing)
    outlines = [outline(path, tile) for tile in tiles_in(path)]
    worst = max(a.intersection(b).area for a, b in combinations(outlines, 2))
    assert worst <= ROUNDED


@pytest.mark.parametrize(("columns", "rows"), [(2, 14), (3, 9), (5, 20)])
def test_length_and_width_are_those_of_the_outlines(columns: int, rows: int) -> None:
    """The tiles together are as wide as the gauge says, and as long but for the start's seeds."""
    path = woven(columns, rows)
    gauge = STITCH.gauge(a_design(columns, rows))
    left, low, right, high = unary_union([outline(path, t) for t in tiles_in(path)]).bounds
    assert pytest.approx(gauge.width, abs=0.02) == high - low
    assert pytest.approx(gauge.length(rows), abs=0.5) == right - left


@pytest.mark.parametrize("spacing", SPACINGS)
@pytest.mark.parametrize(("columns", "rows"), [(2, 6), (3, 9), (5, 14)])
def test_open_holes_can_be_reached(columns: int, rows: int, spacing: float) -> None:
    """No tile covers the way of the needle, 1 mm before an open hole and 1 mm behind it."""
    path = woven(columns, rows, spacing=spacing)
    beads, mouths = beads_of(path), Mouths(path.shapes)
    filled = {(p.bead, p.hole) for p in passes_of(path)}
    still_open = [tile for tile in tiles_in(path) if (tile.id, "b") not in filled]
    assert columns - 1 == len(still_open)
    for tile in still_open:
        x1, y1, x2, y2 = mouths.ends(tile, "b", up=True)
        length = math.hypot(x2 - x1, y2 - y1)
        reach = ((x2 - x1) / length, (y2 - y1) / length)
        needle = LineString([(x1 - reach[0], y1 - reach[1]), (x2 + reach[0], y2 + reach[1])])
        for other in beads.values():
            if other.kind == "tile" and other.id != tile.id:
                # Shrunk by what rounding a place may move a side.
                assert not needle.intersects(outline(path, other).buffer(-0.015))


@pytest.mark.parametrize("rows", [6, 7])
def test_mouths_lie_on_the_outline(rows: int) -> None:
    """The needle enters and leaves a tile on its outline, at half the hole spacing from centre."""
    path = woven(3, rows)
    tile, mouths = wide_tile(path), Mouths(path.shapes)
    holes: tuple[tuple[Hole, float], ...] = (("a", -1.0), ("b", 1.0))
    for bead in tiles_in(path):
        edge = outline(path, bead).exterior
        for hole, side in holes:
            # Unturned, the hole stands upright, hole b on the right.
            x, y, tilt = bead.place
            aside, half = side * tile.hole_spacing / 2, tile.passage / 2
            upright = LineString([(x + aside, y - half), (x + aside, y + half)])
            due = np.ravel(rotate(upright, tilt, origin=(x, y)).coords)
            ends = mouths.ends(bead, hole, up=True)
            assert pytest.approx(due) == ends
            assert edge.distance(Point(ends[:2])) + edge.distance(Point(ends[2:])) < 1e-9


def test_angles_of_the_parquet() -> None:
    """Passages stand at 45 degrees, and hole b lies ahead of hole a, up or down by the row."""
    path = woven(4, 9)
    mouths = Mouths(path.shapes)
    for row in path.rows:
        rise = 1 if row.number % 2 else -1
        for bead in row.beads:
            if bead.kind == "tile":
                ax1, ay1, ax2, ay2 = mouths.ends(bead, "a", up=True)
                bx1, by1, *_ = mouths.ends(bead, "b", up=True)
                across, ahead = (ax2 - ax1, ay2 - ay1), (bx1 - ax1, by1 - ay1)
                assert pytest.approx(90 + 45 * rise) == math.degrees(math.atan2(*across[::-1]))
                assert pytest.approx(45 * rise) == math.degrees(math.atan2(*ahead[::-1]))


def test_counts_by_an_independent_sum() -> None:
    """Sums that numpy takes over a table of all passes give the trade's counts, row by row."""
    columns, rows = 5, 12
    table = np.array(
        [
            (row.number, bool(p.hole), p.picked_up)
            for row in woven(columns, rows).rows
            for step in row.steps
            for p in step.passes
        ],
        dtype=int,
    )
    new = table[table[:, 2] == 1]
    tiles = np.bincount(new[new[:, 1] == 1][:, 0], minlength=rows + 1)[1:]
    seeds = np.bincount(new[new[:, 1] == 0][:, 0], minlength=rows + 1)[1:]
    through = np.bincount(table[table[:, 2] == 0][:, 0], minlength=rows + 1)[1:]
    assert [columns] * rows == tiles.tolist()
    assert [3 * (columns + 1), columns] + [columns + 2] * (rows - 2) == seeds.tolist()
    # Row 1: back through one hole. Row 2: N groups, N - 1 open holes, the turn. Later: N lone
    # seeds, N - 1 open holes, the turn.
    assert [1, 4 * columns] + [2 * columns] * (rows - 2) == through.tolist()
