"""Tubular peyote: round and round, an even number of seeds about the tube.

Row 1 strings the first two rows of beads and closes them to a ring: the needle goes through the
first seed again. Every row after that is a round: pick up one, skip the low one, go through the
one standing out. After the last of them the needle stands before the first seed of the same round
and goes through that, too: the step up, without which the next round has nowhere to begin. So
each round begins one seed further on than the one before, and the seam climbs round the tube as a
spiral. (With an odd number there would be no step up, and no rounds either, but one long spiral.)

The plane is the tube unrolled: lane 1 holds the first seed strung, and the last lane lies beside
it again. Lengths along the tube are as in flat peyote; what is its width there is the girth here.
"""

from __future__ import annotations

from tracker.design.demands import Demands
from tracker.design.model import Design
from tracker.path.band import Band
from tracker.path.builder import PathBuilder
from tracker.path.model import ThreadPath
from tracker.path.proof.expected import Expected
from tracker.path.wording import Run, Wording
from tracker.stitches import peyote
from tracker.stitches.peyote import GIVE, gauge, lies, pass_by, together, told
from tracker.stitches.stitch import Stitch, shapes_of


def weave(design: Design, rows: int) -> ThreadPath:
    """The thread path of `rows` rounds (2 or more), the strung ring among them."""
    seed, lanes = design.own_seed, design.lanes
    colour = STITCH.colouring(design, rows)
    build = PathBuilder(shapes_of(design), around=lanes * seed.length)

    def pick_up(beads_row: int, lane: int) -> int:
        return build.pick_up(seed.name, colour(beads_row, lane), lies(design, beads_row, lane))

    build.start_row("start", "up", 0.0)
    top = {}
    for lane in range(1, lanes + 1):
        # The even lanes lie low, for the first round begins with lane 2.
        top[lane] = pick_up(1 if lane % 2 == 0 else 2, lane)
        build.end_step()
    build.go_through(top[1])
    build.end_step()
    build.end_row()
    for row in range(2, rows + 1):
        build.start_row("rows", "up", lies(design, row + 1, 1).x)
        first = _lane(row, lanes)
        for beyond in range(0, lanes, 2):
            lane = _lane(row + beyond, lanes)
            build.pass_by(top[lane])
            top[lane] = pick_up(row + 1, lane)
            build.go_through(top[_lane(lane + 1, lanes)])
            build.end_step()
        build.go_through(top[first])
        build.end_step(turn=True)
        build.end_row()
    return build.path()


def _lane(number: int, lanes: int) -> int:
    """The lane that a number comes to, counted on round the tube."""
    return (number - 1) % lanes + 1


def expected(band: Band) -> Expected:
    """The counts, by formula; the needle goes one way only.

    A seed is gone through when it is picked up and by the next round; the first of each round
    once more, in the step up (that of the ring when it is closed). The low half of the ring is
    never gone through again. No bead alone holds a part of a tube.
    """
    lanes, rows = band.lanes, band.rows
    passes = bytearray([3, 1] + [2, 1] * (lanes // 2 - 1))
    for row in range(2, rows + 1):
        gone = 2 if row < rows else 1
        passes += bytes([gone + 1] + [gone] * (lanes // 2 - 1))
    return Expected(
        tiles=0,
        seeds=len(passes),
        passes=bytes(passes),
        upward=bytes(passes),
        passed_by=lanes // 2 * (rows - 1),
        hinges=frozenset(),
        longest_span=band.own_seed.diameter / 2 + GIVE,
    )


def through(run: Run, *, full: bool) -> str:
    """The seed standing out; at the end of a round the one that it began with."""
    if not run.new:
        return peyote.through(run, full=full)
    if run.row.number == 1:
        which = "strung first, which closes the ring" if full else "strung first: the ring"
    else:
        which = "that this round began with" if full else "first of the round"
    return told(run, [run.first.bead], which, full=full)


def hint(row: int, step: int, lanes: int) -> str:
    """What a learner should see."""
    if row == 1:
        if step <= lanes:
            return "keep the tail in hand; these seeds become the first two rounds"
        return "draw the ring close and knot tail and thread, or hold it on a rod"
    if step > lanes // 2:
        return "the step up: the next round begins one seed further on"
    if row == 2:
        return "keep the thread tight: every other seed of the ring moves up"
    if step == lanes // 2:
        return "the last of the round: now only its first seed is left to step up through"
    return "the seed standing out is the high one; the low one lies in the gap"


STITCH = Stitch(
    name="tubular peyote",
    demands=Demands(
        tile=False,
        own_seeds=False,
        across="lanes",
        least=4,
        most=80,
        usual=12,
        every=2,
        in_rank=2,
    ),
    gauge=gauge,
    weave=weave,
    expected=expected,
    wording=Wording(through=through, pass_by=pass_by, together=together, turning="step up"),
    hint=hint,
    extra_rows=1,
)
