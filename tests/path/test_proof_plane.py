"""Rules 3 and 6: each catches a good path spoilt in one way, and says where."""

from dataclasses import replace

import pytest
from weaving import (
    STITCH,
    a_design,
    beads_of,
    lone_seed_of,
    passes_of,
    places_of_passes,
    proof_of,
    tile_of,
    with_passes,
    woven,
)

from tracker.path.model import Bead, Pass, Place, Row, Step, ThreadPath
from tracker.path.proof.hang import hang_together
from tracker.path.proof.near import near
from tracker.path.proof.prove import Fault
from tracker.path.proof.trace import Trace

GOOD = woven(3, 9)


def faults(path: ThreadPath, rule: int) -> list[Fault]:
    """The faults of one rule."""
    return [fault for fault in proof_of(path, 3).faults if fault.rule == rule]


def moved(path: ThreadPath, bead: int, x: float, y: float) -> ThreadPath:
    """The path with one bead lying elsewhere, by `x` and `y` (mm)."""

    def shifted(old: Bead) -> Bead:
        place = Place(old.place.x + x, old.place.y + y, old.place.tilt)
        return old._replace(place=place) if old.id == bead else old

    rows = (replace(row, beads=tuple(map(shifted, row.beads))) for row in path.rows)
    return replace(path, rows=tuple(rows))


def seeds_at(points: list[tuple[float, float]], walk: list[int]) -> ThreadPath:
    """A thread through small seeds at `points`, met in the order of their numbers first."""
    beads = tuple(Bead(i, "seed", "15/0", "S", Place(*p, 0.0)) for i, p in enumerate(points))
    passes, there = [], set()
    for bead in walk:
        passes.append(Pass(bead, "", up=True, picked_up=bead not in there))
        there.add(bead)
    return ThreadPath(GOOD.shapes, (Row(1, "rows", "up", 0.0, beads, (Step(tuple(passes)),)),))


def test_longest_span_of_the_weave() -> None:
    """Rule 3: the half tile's weave keeps every bare span within 2 mm, and comes near to it."""
    due = STITCH.expected(STITCH.band(a_design(3, 9), 9))
    assert [] == near(Trace.of(GOOD), replace(due, longest_span=2.0), {})
    assert [] != near(Trace.of(GOOD), replace(due, longest_span=1.0), {})


def test_bead_out_of_reach() -> None:
    """Rule 3: a seed that lies 3 mm off is told with the length of thread before it."""
    lone = lone_seed_of(GOOD, 5, 2)
    found = faults(moved(GOOD, lone, 0.0, 3.0), 3)
    assert (5, 2) == (found[0].row, found[0].step)
    assert f"bare thread before bead {lone} (seed in S), at most 2.0 mm is explained" in (
        found[0].what
    )


def test_reversed_pass() -> None:
    """Rule 3: a tile gone through from its far end leaves thread lying along it."""
    passes = list(GOOD.rows[4].steps[0].passes)
    passes[3] = passes[3]._replace(up=not passes[3].up)
    found = faults(with_passes(GOOD, 5, 1, passes), 3)
    assert (5, 1) == (found[0].row, found[0].step)
    assert f"before hole b of bead {tile_of(GOOD, 4, 2)} (tile in B)" in found[0].what


def test_neighbouring_column_is_out_of_reach() -> None:
    """Rule 3: the open hole of a column further on is too far away."""
    passes = list(GOOD.rows[4].steps[0].passes)
    passes[3] = passes[3]._replace(bead=tile_of(GOOD, 4, 3))
    assert (5, 1) in [(f.row, f.step) for f in faults(with_passes(GOOD, 5, 1, passes), 3)]


def test_thread_over_the_band() -> None:
    """Rule 6: a span that runs across others is no span in the plane."""
    # From the last bead back over the band, to the far corner of the first row, and on again.
    corner = beads_of(GOOD)[0]
    passes = list(GOOD.rows[8].steps[-1].passes)
    over = Pass(corner.id, "", up=True, picked_up=False)
    inner = Pass(lone_seed_of(GOOD, 5, 2), "", up=True, picked_up=False)
    path = with_passes(GOOD, 9, 4, [*passes, over, inner])
    assert [(0, 0)] == [(fault.row, fault.step) for fault in faults(path, 6)]
    assert faults(path, 6)[0].what.startswith("the thread crosses itself")


def test_band_cut_in_two() -> None:
    """Rule 6: where one seed alone carries the work on, the rest would fall off with it."""
    # Two squares of seeds that share bead 0.
    points = [
        (0.0, 0.0),
        (9.0, 0.0),
        (9.0, 9.0),
        (0.0, 9.0),
        (-9.0, 0.0),
        (-9.0, -9.0),
        (0.0, -9.0),
    ]
    path = seeds_at(points, [0, 1, 2, 3, 0, 4, 5, 6, 0])
    found = hang_together(Trace.of(path), frozenset())
    assert ["without bead 0 (seed in S) alone a part of the work falls off"] == [
        fault.what for fault in found
    ]
    assert [] == hang_together(Trace.of(path), frozenset({0}))


def test_rows_that_hang_by_one_thread() -> None:
    """Rule 6: a row that meets the one before it only at the turn hangs on every bead of it."""
    path = GOOD
    for step in (1, 2, 3):
        passes = [p for p in path.rows[6].steps[step - 1].passes if p.picked_up]
        path = with_passes(path, 7, step, passes)
    falling = {fault.what for fault in faults(path, 6)}
    lone = lone_seed_of(path, 7, 1)
    assert f"without bead {lone} (seed in S) alone a part of the work falls off" in falling


@pytest.mark.parametrize("rows", [2, 3, 4, 9])
def test_weak_beads_that_the_weave_explains(rows: int) -> None:
    """Rule 6: the cap at the first turn hangs on its tile alone, and only that is let pass."""
    path = woven(3, rows)
    weak = {fault.what for fault in hang_together(Trace.of(path), frozenset())}
    tile = tile_of(path, 1, 3)
    assert f"without bead {tile} (tile in A) alone a part of the work falls off" in weak
    assert (rows > 2) == (len(weak) == 1)
    assert () == proof_of(path, 3).faults


def test_places_of_faults() -> None:
    """A fault at any pass is placed in the row and the step of that pass."""
    trace = Trace.of(GOOD)
    places = list(places_of_passes(GOOD))
    assert len(passes_of(GOOD)) == len(places)
    found = [trace.fault(3, i, "") for i in range(len(places))]
    assert [(row, step) for row, step, _ in places] == [(f.row, f.step) for f in found]
    assert "row 1, step 1" == found[0].where
