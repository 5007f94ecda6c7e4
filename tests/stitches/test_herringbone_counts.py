"""Counts and colours of any band, by formula."""

from collections import Counter, defaultdict

from hypothesis import given, settings
from hypothesis import strategies as st
from weaving import (
    STITCH,
    a_design,
    beads_of,
    layouts,
    lone_seed_of,
    passes_of,
    proof_of,
    tile_of,
    woven,
)

from tracker.design.model import Design, Layout
from tracker.path.model import ThreadPath

columns_of_any_band = st.integers(2, 40)
rows_of_any_band = st.integers(2, 60)


@st.composite
def any_design(draw: st.DrawFn) -> Design:
    """A band of any width and layout."""
    columns = draw(columns_of_any_band)
    return a_design(columns, draw(rows_of_any_band), layout=draw(layouts(columns)))


def path_of(design: Design) -> ThreadPath:
    """The design woven."""
    assert design.size.rows is not None
    return STITCH.weave(design, design.size.rows)


@given(any_design())
@settings(max_examples=25, deadline=None)
def test_every_band_is_proved(design: Design) -> None:
    """Whatever its width, length and colours, a band's path breaks no rule."""
    proof = proof_of(path_of(design), design.columns)
    assert () == proof.faults


@given(columns_of_any_band, rows_of_any_band)
@settings(max_examples=25, deadline=None)
def test_counts_by_formula(columns: int, rows: int) -> None:
    """N R tiles and (N + 2) R + 2 N - 1 seeds, each row with as many as the trade says."""
    path = woven(columns, rows)
    kinds = Counter(bead.kind for bead in beads_of(path).values())
    assert {"tile": columns * rows, "seed": (columns + 2) * rows + 2 * columns - 1} == kinds
    seeds = [sum(bead.kind == "seed" for bead in row.beads) for row in path.rows]
    assert [3 * (columns + 1), columns, *[columns + 2] * (rows - 2)] == seeds
    assert {columns} == {len(row.beads) - n for row, n in zip(path.rows, seeds, strict=True)}


@given(columns_of_any_band, rows_of_any_band)
@settings(max_examples=25, deadline=None)
def test_holes_filled_and_open(columns: int, rows: int) -> None:
    """Each hole of a tile is filled once; N - 1 holes b of the last row stand open."""
    path = woven(columns, rows)
    filled = Counter((p.bead, p.hole) for p in passes_of(path) if p.hole)
    assert {1} == set(filled.values())
    tiles = {bead.id for bead in beads_of(path).values() if bead.kind == "tile"}
    assert tiles == {bead for bead, hole in filled if hole == "a"}
    last = {tile_of(path, rows, c) for c in range(1, columns + 1)}
    turned = tile_of(path, rows, columns if rows % 2 else 1)
    assert last - {turned} == {bead for bead in tiles if (bead, "b") not in filled}


@given(columns_of_any_band, rows_of_any_band)
@settings(max_examples=25, deadline=None)
def test_seeds_passed_twice_in_opposite_ways(columns: int, rows: int) -> None:
    """Lone seeds but the last row's and the groups S1 ... SN are passed both ways, others once."""
    path = woven(columns, rows)
    ways = defaultdict(list)
    for p in passes_of(path):
        if not p.hole:
            ways[p.bead].append(p.up)
    # Each group of the strung row stands before a tile, four beads apart.
    twice = {4 * c + j for c in range(columns) for j in range(3)}
    twice |= {lone_seed_of(path, r, c) for r in range(2, rows) for c in range(1, columns + 1)}
    assert twice == {seed for seed, passed in ways.items() if len(passed) > 1}
    assert all(sorted(passed) == [False, True] for seed, passed in ways.items() if seed in twice)


@given(columns_of_any_band, rows_of_any_band)
@settings(max_examples=25, deadline=None)
def test_numbers_in_order_of_picking_up(columns: int, rows: int) -> None:
    """Beads count from 0 in the order in which the needle picks them up, row by row."""
    path = woven(columns, rows)
    picked_up = [p.bead for p in passes_of(path) if p.picked_up]
    assert list(range(len(picked_up))) == picked_up
    assert picked_up == [bead.id for row in path.rows for bead in row.beads]


@given(st.data(), st.integers(2, 9), st.integers(2, 20))
@settings(max_examples=25, deadline=None)
def test_lengthwise_stripes(data: st.DataObject, columns: int, rows: int) -> None:
    """Column c lies in lane 2c - 1 in even rows and in lane 2c in odd ones; seeds have theirs."""
    lanes = data.draw(st.text("AB", min_size=2 * columns, max_size=2 * columns))
    layout = Layout(seeds="S", kind="lanes", lines=(lanes,))
    path = path_of(a_design(columns, rows, layout=layout))
    beads = beads_of(path)
    for r in range(1, rows + 1):
        fed = lanes[1::2] if r % 2 else lanes[0::2]
        tiles = [beads[tile_of(path, r, c)] for c in range(1, columns + 1)]
        assert fed == "".join(tile.colour for tile in tiles)
    assert {"S"} == {bead.colour for bead in beads.values() if bead.kind == "seed"}


def test_two_columns_tell_inner_and_outer_lanes_apart() -> None:
    """Up rows feed column 1's inner lane and column 2's outer one; down rows the reverse."""
    layout = Layout(seeds="S", kind="lanes", lines=("BAAB",))
    path = path_of(a_design(2, 6, layout=layout))
    beads = beads_of(path)
    colours = [[beads[tile_of(path, r, c)].colour for c in (1, 2)] for r in range(1, 7)]
    assert [["A", "B"], ["B", "A"]] * 3 == colours


def test_one_colour_for_two_rows_makes_one_stripe() -> None:
    """In crosswise stripes every tile of a row has the row's colour."""
    layout = Layout(seeds="S", kind="rows", lines=tuple("AABB"))
    path = path_of(a_design(3, 8, layout=layout))
    colours = [{b.colour for b in row.beads if b.kind == "tile"} for row in path.rows]
    assert [{"A"}, {"A"}, {"B"}, {"B"}] * 2 == colours
