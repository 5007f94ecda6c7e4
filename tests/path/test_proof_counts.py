"""Rule 7: counts, ways and marks of a good path spoilt in one way."""

from dataclasses import replace

import pytest
from weaving import STITCH, a_design, lone_seed_of, proof_of, tile_of, with_passes, with_step, woven

from tracker.path.model import Row, Step, ThreadPath
from tracker.path.proof.counts import counts
from tracker.path.proof.prove import Fault
from tracker.path.proof.replay import replay
from tracker.path.proof.trace import Trace

GOOD = woven(2, 6)


def faults(path: ThreadPath) -> list[Fault]:
    """The faults of rule 7."""
    return [fault for fault in proof_of(path).faults if fault.rule == 7]


def step_of(row: int, step: int) -> Step:
    """A step of the good path; rows and steps count from 1."""
    return GOOD.rows[row - 1].steps[step - 1]


def without_bead(path: ThreadPath, row: int, bead: int) -> ThreadPath:
    """The path as it is woven when a bead is forgotten: later beads are numbered one less."""

    def renumbered(old: Row) -> Row:
        beads = [b._replace(id=b.id - (b.id > bead)) for b in old.beads if b.id != bead]
        steps = [
            step._replace(
                passes=tuple(
                    p._replace(bead=p.bead - (p.bead > bead)) for p in step.passes if p.bead != bead
                ),
                pass_by=tuple(by - (by > bead) for by in step.pass_by),
            )
            for step in old.steps
        ]
        return replace(old, beads=tuple(beads), steps=tuple(steps))

    assert bead in [b.id for b in path.rows[row - 1].beads]
    return replace(path, rows=tuple(map(renumbered, path.rows)))


@pytest.mark.parametrize("which", [0, 1])
def test_turn_seed_forgotten(which: int) -> None:
    """One turn seed too few is told, though every number follows on."""
    seed = step_of(4, 3).passes[which].bead
    spoilt = without_bead(GOOD, 4, seed)
    found = faults(spoilt)
    assert ["26 seeds are picked up, 27 are due"] == [fault.what for fault in found]


def test_both_turn_seeds_forgotten() -> None:
    """The second of the two mistakes that everyone makes."""
    first, second = (p.bead for p in step_of(4, 3).passes[:2])
    spoilt = without_bead(without_bead(GOOD, 4, second), 4, first)
    assert ["25 seeds are picked up, 27 are due"] == [fault.what for fault in faults(spoilt)]


def test_row_missing() -> None:
    """A tile too few is told as such."""
    spoilt = without_bead(GOOD, 6, tile_of(GOOD, 6, 2))
    assert "11 tiles are picked up, 12 are due" in [fault.what for fault in faults(spoilt)]


def test_lone_seed_forgotten() -> None:
    """A lone seed that the next row does not go through is named where it was picked up."""
    passes = [p for p in step_of(5, 1).passes if p.bead != lone_seed_of(GOOD, 4, 1)]
    found = faults(with_passes(GOOD, 5, 1, passes))
    due = f"the needle is in bead {lone_seed_of(GOOD, 4, 1)} (seed in S) 1 times, 2 are due"
    assert [(4, 2, due)] == [(fault.row, fault.step, fault.what) for fault in found]


def test_seed_passed_the_same_way_twice() -> None:
    """A seed gone through again the way that it was picked up is a loop, not a hinge."""
    lone = lone_seed_of(GOOD, 3, 1)
    passes = [p._replace(up=True) if p.bead == lone else p for p in step_of(4, 2).passes]
    found = [(f.row, f.step, f.what) for f in faults(with_passes(GOOD, 4, 2, passes))]
    assert (4, 2, f"bead {lone} (seed in S) is passed upwards twice") in found
    assert (4, 2, f"bead {lone} (seed in S) is passed the wrong way") in found


def test_seed_picked_up_the_wrong_way() -> None:
    """The needle goes the row's way through every bead, also through those passed only once."""
    passes = list(step_of(5, 3).passes)
    passes[0] = passes[0]._replace(up=False)
    found = faults(with_passes(GOOD, 5, 3, passes))
    what = f"bead {passes[0].bead} (seed in S) is passed the wrong way"
    assert [(5, 3, what)] == [(fault.row, fault.step, fault.what) for fault in found]


def test_row_with_the_wrong_heading() -> None:
    """A row said to go down whose needle goes up is told off at each pass."""
    rows = list(GOOD.rows)
    rows[4] = replace(rows[4], heading="down")
    found = faults(replace(GOOD, rows=tuple(rows)))
    assert {5} == {fault.row for fault in found}
    assert sum(len(step.passes) for step in rows[4].steps) == len(found)


def test_turn_missing() -> None:
    """Each row ends with a turn."""
    found = faults(with_step(GOOD, 5, 3, step_of(5, 3)._replace(turn=False)))
    assert (5, 3, "the turn is missing") == (found[0].row, found[0].step, found[0].what)


def test_turn_before_the_edge() -> None:
    """No row turns before its end."""
    found = faults(with_step(GOOD, 5, 1, step_of(5, 1)._replace(turn=True)))
    assert (5, 1, "the needle turns before the edge") == (
        found[0].row,
        found[0].step,
        found[0].what,
    )


def test_tile_to_pass_by_is_not_full() -> None:
    """A mark to pass by points to a full tile: the one standing out would lead astray."""
    path = woven(3, 6)
    out = tile_of(path, 4, 3)
    marked = path.rows[4].steps[0]._replace(pass_by=(out,))
    found = proof_of(with_step(path, 5, 1, marked), 3).faults
    what = f"bead {out} (tile in B) is to be passed by, though it is not full"
    assert [(7, 5, 1, what)] == [(f.rule, f.row, f.step, f.what) for f in found]


def test_tile_to_pass_by_is_gone_through() -> None:
    """A step cannot say of one bead both to pass it by and to go through it."""
    through = tile_of(GOOD, 4, 2)
    found = faults(with_step(GOOD, 5, 1, step_of(5, 1)._replace(pass_by=(through,))))
    what = f"bead {through} (tile in B) is to be passed by and is gone through"
    assert [(5, 1, what)] == [(fault.row, fault.step, fault.what) for fault in found]


def test_mark_to_pass_by_missing() -> None:
    """The warning of the full tile is missed where it does not stand."""
    found = faults(with_step(GOOD, 5, 1, step_of(5, 1)._replace(pass_by=())))
    assert ["3 beads are to be passed by, 4 are due"] == [fault.what for fault in found]


def test_bead_listed_in_the_wrong_row() -> None:
    """A row lists what it picks up, for that is where a bead is looked for."""
    rows = list(GOOD.rows)
    rows[4] = replace(rows[4], beads=rows[4].beads[1:])
    rows[5] = replace(rows[5], beads=(GOOD.rows[4].beads[0], *rows[5].beads))
    found = faults(replace(GOOD, rows=tuple(rows)))
    assert [5, 6] == [fault.row for fault in found]


def test_counts_told_by_formula_not_by_weaving() -> None:
    """A path held against the counts of another band differs in beads, or bead by bead."""
    trace = Trace.of(GOOD)
    filling, _ = replay(trace)
    other = STITCH.expected(STITCH.band(a_design(3, 4), 4))
    found = counts(trace, filling, other)
    assert ["27 seeds are picked up, 25 are due"] == [fault.what for fault in found]
