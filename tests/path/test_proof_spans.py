"""The spans of a thread, worked out once for each kind, against the mouths of every pass."""

from dataclasses import replace
from math import atan2, hypot, sin

import pytest
from test_every_stitch import a_design_in
from weaving import STITCH, a_design, closed_with

from tracker.path.model import Place, Row, Step, ThreadPath
from tracker.path.plane import nearer
from tracker.path.proof.trace import Trace
from tracker.stitches import find_stitch

TUBES = [find_stitch(name) for name in ("tubular herringbone", "tubular peyote")]
PATHS = [
    STITCH.weave(a_design(3, 31), 31),
    STITCH.weave(a_design(4, 12, beads=("two-hole oval", "11/0")), 12),
    STITCH.weave(a_design(3, 9, closure=closed_with("bead loops", 3)), 9),
    *(tube.weave(a_design_in(tube.name), 9) for tube in TUBES),
]


@pytest.mark.parametrize("path", PATHS, ids=["band", "ovals", "closed", "tube", "peyote tube"])
def test_spans_of_every_pass(path: ThreadPath) -> None:
    """Each span is as long, and leaves its two beads as, the places of its own two passes say."""
    trace, around = Trace.of(path), path.around
    assert (path is PATHS[2]) == (trace.tail is not None)
    deep = 0
    for i, (there, found) in enumerate(zip(trace.passes, trace.spans, strict=True)):
        last, _, out_x, out_y = trace.before(i)
        in_x, in_y, _, _ = trace.ends[i]
        x, y, _ = trace.beads[there.bead].place
        last_x, last_y, _ = trace.beads[last].place
        assert hypot(in_x - out_x, nearer(in_y - out_y, around)) == pytest.approx(found.long)
        out = hypot(out_x - last_x, nearer(out_y - last_y, around))
        into = hypot(in_x - x, nearer(in_y - y, around))
        ways = (
            ((in_x - last_x, in_y - last_y), (x - last_x, y - last_y), out, found.there),
            ((out_x - x, out_y - y), (last_x - x, last_y - y), into, found.back),
        )
        for mouth, bead, own, angle in ways:
            # A mouth deep inside the bead itself says nothing of where it leads.
            inside = hypot(mouth[0], nearer(mouth[1], around)) < own / 4
            far_x, far_y = bead if inside else mouth
            due = atan2(nearer(far_y, around), far_x)
            deep += inside
            assert 0.0 == pytest.approx(sin((due - angle) / 2), abs=1e-8)
    assert deep < len(trace.passes) / 10


def test_a_bead_that_lies_otherwise_has_spans_of_its_own() -> None:
    """One bead moved or turned by the least that a file keeps changes its own spans alone."""
    good = PATHS[0]
    row = good.rows[20]
    spans = Trace.of(good).spans
    for x, y, tilt in ((0.01, 0.0, 0.0), (0.0, 0.01, 0.0), (0.0, 0.0, 0.1)):
        bead = row.beads[3]
        place = Place(bead.place.x + x, bead.place.y + y, bead.place.tilt + tilt)
        beads = (*row.beads[:3], bead._replace(place=place), *row.beads[4:])
        rows = (*good.rows[:20], replace(row, beads=beads), *good.rows[21:])
        trace = Trace.of(replace(good, rows=rows))
        through = {i for i, p in enumerate(trace.passes) if p.bead == bead.id}
        changed = {
            i
            for i, (was, now) in enumerate(zip(spans, trace.spans, strict=True))
            if abs(was.long - now.long) > 1e-6 or abs(was.there - now.there) > 1e-6
        }
        assert changed
        assert changed <= through | {i + 1 for i in through}


def test_the_first_pass_comes_out_where_it_went_in() -> None:
    """Before the first pass there is no thread; and a path without passes has no spans."""
    assert 0.0 == Trace.of(PATHS[0]).spans[0].long
    empty = ThreadPath(PATHS[0].shapes, (Row(1, "rows", "up", 0.0, (), (Step(()),)),))
    assert [] == Trace.of(empty).spans
