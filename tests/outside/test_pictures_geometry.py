"""The drawn beads against shapely: outlines, overlaps, angles, pitch and size of the band."""

import math

import numpy as np
import pytest
from drawn import Box, boxes
from sealing import compiled
from shapely import Polygon, STRtree, box, unary_union  # type: ignore[import-untyped]  # no types

from tracker.pictures.sheet import Drawing
from tracker.pictures.svg import draw_svg
from tracker.pictures.symbols import LETTER

ROWS = 24
ROUNDED = 0.033
"""Places are kept to 0.01 mm: tiles whose sides touch along 2.3 mm may seem to overlap by
2.3 mm times sqrt(2) x 0.01 mm, in mm2."""
BARE = Drawing(words=False, scales=False)


@pytest.fixture(scope="module", params=[2, 6])
def columns(request: pytest.FixtureRequest) -> int:
    """A narrow band and a wide one."""
    return int(request.param)


@pytest.fixture(scope="module")
def svg(columns: int) -> str:
    """The band's drawing."""
    return draw_svg(compiled(columns, ROWS).pattern, BARE)


def outlines(found: list[Box]) -> list[Polygon]:
    """The boxes as polygons."""
    return [Polygon(one.corners) for one in found]


def test_tiles_have_their_true_size(svg: str) -> None:
    """Every outline is 5.0 x 2.3 mm, every seed's 1.5 x 1.1 mm."""
    for kind, long, wide in (("tile", 5.0, 2.3), ("seed", 1.5, 1.1)):
        for bead in boxes(svg, kind):
            sides = [math.dist(bead.corners[i], bead.corners[i - 1]) for i in range(4)]
            assert [wide, wide, long, long] == pytest.approx(sorted(sides), abs=0.005)


def test_no_tile_lies_on_another(svg: str) -> None:
    """Outlines share no more than the rounding of places explains."""
    tiles = outlines(boxes(svg, "tile"))
    tree = STRtree(tiles)
    touching = 0
    for i, tile in enumerate(tiles):
        for j in tree.query(tile):
            if j > i:
                touching += 1
                assert tile.intersection(tiles[j]).area <= ROUNDED
    assert touching > len(tiles)


def test_tiles_stand_at_45_degrees(svg: str) -> None:
    """Half of them lean one way, half the other."""
    leans = []
    for tile in boxes(svg, "tile"):
        edges = [tile.corners[i] - tile.corners[i - 1] for i in range(4)]
        x, y = max(edges, key=lambda edge: float(np.hypot(*edge)))
        leans.append(round(math.degrees(math.atan2(y, x)) % 180.0, 3))
    assert {45.0, 135.0} == set(leans)
    assert leans.count(45.0) == leans.count(135.0)


def test_pitch_and_size_of_the_band(svg: str, columns: int) -> None:
    """Row pitch (w + L) / sqrt 2, lanes (l - L) / sqrt 2 apart, and the hull that they give."""
    tiles = boxes(svg, "tile")
    xs = sorted({round(tile.middle[0], 2) for tile in tiles})
    ys = sorted({round(tile.middle[1], 2) for tile in tiles})
    pitch, lane = (2.3 + 1.1) / math.sqrt(2), (5.0 - 1.1) / math.sqrt(2)
    assert (ROWS, 2 * columns) == (len(xs), len(ys))
    assert np.diff(xs) == pytest.approx(np.full(ROWS - 1, pitch), abs=0.011)
    assert np.diff(ys) == pytest.approx(np.full(2 * columns - 1, lane), abs=0.011)
    left, top, right, bottom = unary_union(outlines(tiles)).bounds
    lean = (5.0 + 2.3) / math.sqrt(2)
    assert right - left == pytest.approx((ROWS - 1) * pitch + lean, abs=0.02)
    assert bottom - top == pytest.approx((2 * columns - 1) * lane + lean, abs=0.02)


def test_lone_seeds_lie_in_pockets(svg: str) -> None:
    """They reach over tiles by less than a fifth: with corners that a round bead has not."""
    tiles = unary_union(outlines(boxes(svg, "tile")))
    straight = [
        seed for seed in boxes(svg, "seed") if abs(seed.corners[0][0] - seed.corners[3][0]) < 0.005
    ]
    assert len(straight) > ROWS
    for seed in outlines(straight):
        assert seed.intersection(tiles).area < 0.2 * seed.area


def test_letters_stand_inside_their_tiles() -> None:
    """A letter of 1.5 mm in the middle of a tile, either way it leans, reaches over no edge."""
    tiles = boxes(draw_svg(compiled(2, 2).pattern, BARE), "tile")
    for tile in tiles:
        x, y = tile.middle
        letter = box(x - LETTER / 2, y - LETTER / 2, x + LETTER / 2, y + LETTER / 2)
        assert Polygon(tile.corners).contains(letter)
