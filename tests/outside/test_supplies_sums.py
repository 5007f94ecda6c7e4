"""Supplies summed again by numpy, from the rows themselves; amounts by pint."""

from __future__ import annotations

from collections import Counter
from typing import Any

import numpy as np
import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from weaving import a_design, layouts, passes_of

from tracker.beads.model import Tile
from tracker.design.model import Thread
from tracker.pattern.compiler import compile_design
from tracker.pattern.packages import beads_in
from tracker.pattern.stock import beads_of
from tracker.pattern.supplies import fullest_holes, supplies_of, thread_lines

UNITS: pint.UnitRegistry[Any] = pint.UnitRegistry()
SHORT = Thread(diameter=0.15, length=700.0, tail=250.0)


@given(st.integers(2, 4), st.integers(2, 40), st.integers(600, 2500))
@settings(max_examples=25, deadline=None)
def test_the_thread_adds_up(columns: int, rows: int, length: int) -> None:
    """Rows, tail, both ends of every length: numpy's sum is the total, stretch by stretch."""
    thread = Thread(diameter=0.15, length=float(length), tail=250.0)
    pattern = compile_design(a_design(columns, rows, thread=thread)).pattern
    supplies = supplies_of(pattern)
    by_row = np.array([row.thread for row in pattern.path().rows])
    n = supplies.lengths
    assert pytest.approx(by_row.sum() + 250.0 + 150.0 + 300.0 * (n - 1)) == supplies.thread
    worked = [by_row[s.first_row : s.last_row + 1].sum() for s in supplies.stretches]
    assert pytest.approx(np.array(worked)) == [s.worked for s in supplies.stretches]
    assert pytest.approx(supplies.thread) == sum(s.worked + s.lost for s in supplies.stretches)
    assert [400.0, *[300.0] * (n - 1)] == [s.lost for s in supplies.stretches]
    assert all(s.over >= -1e-6 for s in supplies.stretches)
    firsts = [s.first_row for s in supplies.stretches]
    assert [0, *(s.last_row + 1 for s in supplies.stretches)] == [*firsts, rows]


def test_thread_in_words() -> None:
    """Each length says its rows, what its ends lose, and after which row the next is joined."""
    pattern = compile_design(a_design(2, 20, thread=SHORT)).pattern
    supplies = supplies_of(pattern)
    first, second = supplies.stretches
    lines = list(thread_lines(supplies))
    assert (
        f"length 1  700 mm: rows 1 to {second.first_row} take {first.worked:.0f} mm, its ends "
        f"lose 400 mm, {first.over:.0f} mm over; join after row {second.first_row}" == lines[0]
    )
    assert lines[1].endswith(" mm over")


@given(st.data(), st.integers(2, 4), st.integers(2, 30))
@settings(max_examples=40, deadline=None)
def test_beads_by_layout_are_those_of_the_woven_band(
    data: st.DataObject, columns: int, rows: int
) -> None:
    """Counted by the layout alone, the beads are those that numpy counts in the thread path."""
    design = a_design(columns, rows, layout=data.draw(layouts(columns)))
    pattern = compile_design(design).pattern
    path = pattern.path()
    kinds = np.array([bead.kind[0] + bead.colour for row in path.rows for bead in row.beads])
    counted = dict(zip(*(a.tolist() for a in np.unique(kinds, return_counts=True)), strict=True))
    assert counted == dict(beads_of(design, rows))
    assert counted == {
        f"{bead.shape.kind[0]}{bead.colour}": bead.count for bead in supplies_of(pattern).beads
    }


@pytest.mark.parametrize(("columns", "rows"), [(2, 2), (2, 12), (5, 9)])
def test_the_fullest_holes_counted_pass_by_pass(columns: int, rows: int) -> None:
    """Counted from the lines, the passes are those of the path, hole by hole."""
    pattern = compile_design(a_design(columns, rows)).pattern
    path = pattern.path()
    shapes = {bead.id: bead.shape for row in path.rows for bead in row.beads}
    through = Counter((p.bead, p.hole) for p in passes_of(path))
    letters = {shape.name: letter for letter, shape in pattern.shapes.items()}
    fullest = {
        letters[name]: max(n for (bead, _), n in through.items() if shapes[bead] == name)
        for name in letters
    }
    assert fullest == fullest_holes(pattern)
    # Common practice: seeds of this weave are passed twice, each hole of a tile once.
    assert {"t": 1, "s": 2} == fullest


@pytest.mark.parametrize(("spare", "share"), [(0.0, 0), (0.1, 10), (0.25, 25), (1.0, 100)])
def test_the_spare_share(spare: float, share: int) -> None:
    """Whole beads, rounded up, and the grams of all of them by volume and density."""
    supplies = supplies_of(compile_design(a_design(2, 31)).pattern, spare)
    density = UNITS.Quantity(2.5, "g/cm**3")
    for bead in supplies.beads:
        assert -(-bead.count * (100 + share) // 100) == bead.with_spare
        if isinstance(bead.shape, Tile):
            tile = bead.shape
            box = tile.length * tile.passage * tile.thickness
            bores = 2 * np.pi / 4 * tile.hole**2 * tile.passage
            mass = (UNITS.Quantity(box - bores, "mm**3") * density).to("g").magnitude
            assert pytest.approx(bead.with_spare * mass) == bead.grams


def test_what_to_buy_for_a_band() -> None:
    """The packages of each kind hold what is needed with its spare, and the rest is said."""
    for bead in supplies_of(compile_design(a_design(2, 62)).pattern, 0.2).beads:
        bought = bead.purchase(["5 g", "10 g", "250 beads"])
        each = bead.grams / bead.with_spare
        held = sum(beads_in(package.size, each) * n for package, n in bought.packages)
        assert bead.with_spare + bought.over == held
