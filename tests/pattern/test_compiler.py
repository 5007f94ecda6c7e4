"""From a design to rows: how long, how thick, and what cannot be woven."""

from dataclasses import replace

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from weaving import STITCH, THREAD, a_design

from tracker.beads.catalogue import seeds, tiles
from tracker.design.model import Design
from tracker.pattern.compiler import compile_design, prove_pattern, rows_of
from tracker.problems import ProblemsError


def refused(design: Design) -> list[str]:
    """The problem lines of a design that does not compile."""
    with pytest.raises(ProblemsError) as caught:
        compile_design(design)
    return caught.value.lines()


@pytest.mark.parametrize(
    ("length", "rows"),
    # (length - 3.1577) / 2.4042, up to the next whole row.
    [(10.0, 3), (50.0, 20), (150.0, 62), (160.0, 66), (1000.0, 415), (10_000.0, 4159)],
)
def test_rows_for_a_length(length: float, rows: int) -> None:
    """The fewest rows that reach the length: not a row shorter, not a row more."""
    design = a_design(2, length=length)
    gauge = STITCH.gauge(design)
    assert rows == rows_of(design, gauge)
    assert gauge.length(rows) >= length - 0.01 * gauge.pitch > gauge.length(rows - 1)
    low, high = gauge.rows_range(length)
    assert low <= rows <= high


def test_pattern_keeps_length_and_rows() -> None:
    """A design by length keeps its target; a design by rows has none."""
    by_length = compile_design(a_design(2, length=50.0)).pattern
    assert (50.0, 20) == (by_length.target, by_length.row_count)
    by_rows = compile_design(a_design(2, 20)).pattern
    assert (None, 20) == (by_rows.target, by_rows.row_count)
    assert by_length.lines == by_rows.lines


def test_length_too_short_for_any_band() -> None:
    """Beads so large that the length takes less than the start are refused with what goes."""
    tile = replace(tiles()["half tile"], name="slab", length=20.0, passage=12.0, hole_spacing=14.0)
    seed = replace(seeds()["6/0"], name="drum", length=6.0, diameter=7.0)
    (line,) = refused(replace(a_design(2, length=10.0), tile=tile, seed=seed))
    assert line.startswith(": size.length: 10 mm takes 0 rows, from 2 to 5000 go; write a length")


def test_length_too_long_for_any_band() -> None:
    """Beads so small that the length takes over 5,000 rows are refused with what goes."""
    tile = replace(tiles()["half tile"], name="chip", length=2.0, passage=0.9, hole_spacing=1.2)
    seed = replace(seeds()["15/0"], name="mite", length=0.45, diameter=0.6, hole=0.3)
    (line,) = refused(replace(a_design(2, length=10_000.0), tile=tile, seed=seed))
    assert line.startswith(": size.length: 10000 mm takes 10475 rows, from 2 to 5000 go; write a")


def test_thread_too_thick() -> None:
    """Two threads of 0.35 mm do not go into the seed's 0.6 mm: one line says so, not hundreds."""
    (line,) = refused(a_design(2, 62, thread=replace(THREAD, diameter=0.35)))
    assert line.startswith(": row 1, step 1: rule 5 of the proof: 2 passes through bead 0")
    assert line.endswith("take a finer thread or beads with larger holes")


@pytest.mark.parametrize(
    ("tile", "seed"),
    [("half tile", "8/0"), ("quarter tile", "6/0"), ("quarter tile", "8/0")],
)
def test_beads_that_do_not_go_together(tile: str, seed: str) -> None:
    """Seeds that force the tiles apart are refused for what they are, in one line."""
    fitting = "15/0 would fit" if tile == "half tile" else "15/0, 11/0 or cylinder 11/0 would fit"
    why = f"{seed} seeds are too thick for the pocket between {tile} beads, {fitting}"
    what = f"no thread path can be proved with these beads: {why}"
    assert [f": beads: {what}; take other beads, or measure them again"] == refused(
        a_design(2, 62, beads=(tile, seed))
    )


@pytest.mark.parametrize(
    ("tile", "seed", "word"),
    [
        ("half tile", "15/0", ""),
        ("half tile", "11/0", "too thick for the pocket between half tile beads, 15/0 would fit"),
        ("quarter tile", "15/0", ""),
        ("quarter tile", "11/0", ""),
        ("two-hole oval", "15/0", ""),
        ("full tile", "15/0", "which leave no pocket for any: the weave is forced open"),
    ],
)
def test_advice(tile: str, seed: str, word: str) -> None:
    """Beads that suit each other need none; others are woven, with advice to try them first."""
    advice = compile_design(a_design(2, 9, beads=(tile, seed))).advice
    assert bool(word) == bool(advice)
    assert word in advice
    assert not advice or advice.endswith(": weave a small swatch before the band")


@pytest.mark.parametrize(
    ("tile", "seed", "hinge", "cap"),
    [
        ("half tile", "15/0", 1, 3),
        ("quarter tile", "15/0", 2, 3),
        ("quarter tile", "11/0", 1, 2),
        ("two-hole oval", "15/0", 1, 2),
    ],
)
def test_as_many_seeds_as_fit(tile: str, seed: str, hinge: int, cap: int) -> None:
    """Hinge and cap by hand: (l - w + 0.15 - D) / L and (h + D / 2) / L, whole seeds of each.

    Half tile and 15/0: (5.0 - 2.3 + 0.15 - 1.5) / 1.1 = 1.2 and (3.0 + 0.75) / 1.1 = 3.4; quarter
    tile and 15/0: 2.2 and 3.4; quarter tile and 11/0: 1.3 and 2.9; oval and 15/0: 1.04 and 2.95.
    """
    done = compile_design(a_design(3, 9, beads=(tile, seed)))
    assert (hinge, cap) == (done.pattern.hinge, done.pattern.cap)
    assert () == prove_pattern(done.pattern).faults
    # Row 1 strings a group before every tile and one after, row 3 has a hinge to each tile.
    strung, third = done.pattern.row(0), done.pattern.row(2)
    assert [cap + 1, cap + 1, cap + 1, cap] == [len(list(s.picked_up())) for s in strung.steps]
    turn = cap - hinge
    assert [hinge + 1] * 3 + [turn] == [len(list(s.picked_up())) for s in third.steps]


@pytest.mark.parametrize("number", [2, 4])
def test_seeds_at_the_cap_as_the_design_says(number: int) -> None:
    """A number of one's own is woven, told in the file, and advised against."""
    done = compile_design(replace(a_design(2, 9), cap=number))
    assert number == done.pattern.cap
    assert f"3 15/0 seeds would lie, {number} are used" in done.advice
    assert f"\ncap = {number}\n" in done.text


@given(
    length=st.floats(4.75, 5.25),
    passage=st.floats(2.19, 2.41),
    spacing=st.floats(2.3, 3.9),
    columns=st.integers(2, 4),
    rows=st.integers(2, 9),
)
@example(length=5.25, passage=2.25, spacing=2.59, columns=2, rows=2)  # a mouth inside a seed
@settings(max_examples=60, deadline=None)
def test_half_tiles_as_makers_differ(
    length: float, passage: float, spacing: float, columns: int, rows: int
) -> None:
    """A half tile 5 % off, with the holes wherever makers put them, weaves and proves."""
    tile = replace(
        tiles()["half tile"],
        name="half tile, measured",
        length=round(length, 2),
        passage=round(passage, 2),
        hole_spacing=round(spacing, 2),
    )
    pattern = compile_design(replace(a_design(columns, rows), tile=tile)).pattern
    assert () == prove_pattern(pattern).faults
    assert tile == pattern.shapes["t"]
