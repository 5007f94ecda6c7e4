"""Rules 1, 2, 4 and 5: each catches a good path spoilt in one way, and says where."""

from dataclasses import replace

from weaving import THREAD, lone_seed_of, passes_of, proof_of, tile_of, with_passes, woven

from tracker.path.model import Pass, ThreadPath
from tracker.path.proof.prove import Fault
from tracker.pattern.compiler import room_of

GOOD = woven(2, 6)


def passes(row: int, step: int) -> list[Pass]:
    """The passes of a step of the good path; rows and steps count from 1."""
    return list(GOOD.rows[row - 1].steps[step - 1].passes)


def faults(path: ThreadPath, rule: int) -> list[Fault]:
    """The faults of one rule."""
    return [fault for fault in proof_of(path).faults if fault.rule == rule]


def first(path: ThreadPath) -> tuple[int, int, int]:
    """Rule, row and step of the first fault."""
    fault = proof_of(path).faults[0]
    return (fault.rule, fault.row, fault.step)


def first_words(path: ThreadPath) -> str:
    """What the first fault says."""
    return proof_of(path).faults[0].what


def test_good_path_has_no_faults() -> None:
    """The path that the other tests spoil is proved, and counted to the last pass."""
    proof = proof_of(GOOD)
    assert () == proof.faults
    assert (len(passes_of(GOOD)), 39) == (proof.passes, proof.beads)


def test_bead_picked_up_twice() -> None:
    """Rule 1: a bead cannot be picked up again where it is already in the work."""
    lone = lone_seed_of(GOOD, 3, 1)
    spoilt = passes(4, 1)
    spoilt[0] = spoilt[0]._replace(bead=lone)
    path = with_passes(GOOD, 4, 1, spoilt)
    assert (1, 4, 1) == first(path)
    assert f"bead {lone} (seed in S) is picked up a second time" == faults(path, 1)[0].what


def test_bead_gone_through_before_it_is_there() -> None:
    """Rule 1: the needle cannot go through a bead of a later row."""
    coming = lone_seed_of(GOOD, 5, 1)
    spoilt = passes(3, 1)
    spoilt[2] = spoilt[2]._replace(bead=coming)
    path = with_passes(GOOD, 3, 1, spoilt)
    assert (1, 3, 1) == first(path)
    assert f"bead {coming} (seed in S) is gone through before it is there" == first_words(path)


def test_tile_picked_up_by_hole_b() -> None:
    """Rule 1: a tile is picked up by its hole a."""
    spoilt = passes(3, 2)
    spoilt[1] = spoilt[1]._replace(hole="b")
    path = with_passes(GOOD, 3, 2, spoilt)
    assert (1, 3, 2) == first(path)
    tile = tile_of(GOOD, 3, 2)
    assert f"bead {tile} (tile in A) is picked up by its hole b" == first_words(path)


def test_beads_out_of_order() -> None:
    """Rule 1: two beads picked up in each other's place are out of their order."""
    spoilt = passes(3, 3)
    spoilt[0], spoilt[1] = spoilt[1], spoilt[0]
    path = with_passes(GOOD, 3, 3, spoilt)
    assert (1, 3, 3) == first(path)
    assert "is picked up when bead" in first_words(path)


def test_holes_that_a_bead_does_not_have() -> None:
    """Rule 1: a seed has no hole b, and a tile's hole must be named."""
    spoilt = passes(3, 1)
    spoilt[2] = spoilt[2]._replace(hole="b")
    path = with_passes(GOOD, 3, 1, spoilt)
    assert (1, 3, 1) == first(path)
    assert first_words(path).endswith("(seed in S) has no hole b")
    spoilt = passes(3, 1)
    spoilt[3] = spoilt[3]._replace(hole="")
    path = with_passes(GOOD, 3, 1, spoilt)
    assert (1, 3, 1) == first(path)
    assert first_words(path).endswith("has two holes, none is named")


def test_bead_that_belongs_to_no_row() -> None:
    """Rule 1: a number that no row lists, and a listed bead that nobody picks up."""
    spoilt = passes(3, 1)
    spoilt[2] = spoilt[2]._replace(bead=999)
    path = with_passes(GOOD, 3, 1, spoilt)
    assert "bead 999 belongs to no row" in [fault.what for fault in faults(path, 1)]
    last = GOOD.rows[5].steps[2].passes
    path = with_passes(GOOD, 6, 3, [p for p in last if p.bead != last[0].bead])
    assert [f"bead {last[0].bead} (seed in S) is never picked up"] == [
        fault.what for fault in faults(path, 1) if not fault.row
    ]


def test_straight_back() -> None:
    """Rule 2: the needle may not go straight back through the hole that it has just left."""
    spoilt = passes(4, 2)
    spoilt.append(spoilt[-1]._replace(up=True))
    path = with_passes(GOOD, 4, 2, spoilt)
    assert [(4, 2)] == [(fault.row, fault.step) for fault in faults(path, 2)]
    assert "goes straight back" in faults(path, 2)[0].what


def test_straight_back_across_steps() -> None:
    """Rule 2: that the way back is another step, or another row, does not help."""
    spoilt = [passes(4, 3)[-1]._replace(up=False), *passes(5, 1)]
    path = with_passes(GOOD, 5, 1, spoilt)
    assert [(5, 1)] == [(fault.row, fault.step) for fault in faults(path, 2)]


def test_through_the_full_tile() -> None:
    """Rule 4: the commonest mistake: the full tile behind the lone seed is gone through."""
    spoilt = passes(4, 1)
    behind, standing_out = tile_of(GOOD, 2, 2), tile_of(GOOD, 3, 1)
    spoilt[3] = spoilt[3]._replace(bead=behind)
    path = with_passes(GOOD, 4, 1, spoilt)
    assert [(4, 1), (3, 1)] == [(f.row, f.step) for f in reversed(faults(path, 4))]
    words = {fault.what for fault in faults(path, 4)}
    assert {
        f"hole b of bead {behind} (tile in B) is full already",
        f"hole b of bead {standing_out} (tile in A) stays open for ever",
    } == words


def test_hole_left_open() -> None:
    """Rule 4: a hole that the needle has forgotten stays open for ever."""
    path = with_passes(GOOD, 4, 1, passes(4, 1)[:3])
    assert [(3, 1)] == [(fault.row, fault.step) for fault in faults(path, 4)]
    assert "stays open for ever" in faults(path, 4)[0].what


def test_last_row_closed_too_early() -> None:
    """Rule 4: a hole that the next row is to find open is not to be filled."""
    standing_out = tile_of(GOOD, 6, 2)
    more = Pass(standing_out, "b", up=False, picked_up=False)
    path = with_passes(GOOD, 6, 1, [*passes(6, 1), more])
    what = f"hole b of bead {standing_out} (tile in B) is full, though the next row should find it"
    assert [f"{what} open"] == [fault.what for fault in faults(path, 4)]


def test_thread_too_thick() -> None:
    """Rule 5: the first seed whose hole does not take its passes is named, the rest counted."""
    # Two threads of 0.35 mm need a hole of 0.7 mm; the seed's has 0.6 mm.
    thick = replace(THREAD, diameter=0.35)
    found = [fault for fault in proof_of(GOOD, thread=thick).faults if fault.rule == 5]
    assert [(1, 1)] == [(fault.row, fault.step) for fault in found]
    # Passed twice: the groups S1 and S2, and the lone seeds of rows 2 to 5.
    assert (
        "2 passes through bead 0 (seed in S), whose hole takes 1 with this thread and the "
        f"thinnest needle (and {6 + 8 - 1} more)"
    ) == found[0].what


def test_tightest_hole() -> None:
    """The proof names the hole nearest to its limit: a seed that the thread meets twice."""
    thread = replace(THREAD, diameter=0.25)
    tightest = proof_of(GOOD, thread=thread).tightest
    assert tightest is not None
    seed = GOOD.shapes["15/0"]
    assert (0, "", 2, room_of(thread)(seed)) == (
        tightest.bead,
        tightest.hole,
        tightest.passes,
        tightest.limit,
    )


def test_many_faults_in_little_time() -> None:
    """A long band in too thick a thread is refused without looking each bead up from the start."""
    long = woven(10, 400)
    found = proof_of(long, 10, replace(THREAD, diameter=0.59)).faults
    assert 1 == len(found)
