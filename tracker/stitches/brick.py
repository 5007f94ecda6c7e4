"""Brick stitch: rows of seeds side by side, each bead over the gap between two of the row before.

Row 1 is a ladder across the band, its holes along the band. From then on every bead hangs on the
thread between two beads of the row before: pick it up, go under that thread, go back through it.
A row begins with two beads: they are picked up together and the second is hung; then the needle
goes through the first again and through the second, so that both stand straight and no thread
lies along the edge.

At the edge at which a row begins it reaches half a bead further out if its first pair hangs on
the first thread, half a bead further in on the second. At the edge at which it ends it lies half a
bead further in, or out with one bead more that hangs on the last thread too. A straight band goes
out where it begins and in where it ends, so it stands half a bead to and fro. The last row of a
shape may be a single bead. (All of this is common practice, told from memory.)

The grid is the beads' own: along the band their length, across it their diameter.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from tracker.design.demands import Demands
from tracker.design.model import Design
from tracker.design.shape import drawn_outline
from tracker.path.band import Band, Outline
from tracker.path.builder import PathBuilder
from tracker.path.gauge import Gauge
from tracker.path.model import Place, ThreadPath
from tracker.path.plane import place
from tracker.path.proof.expected import Expected
from tracker.path.wording import Run, Wording, called, listed
from tracker.path.wording import under as between_two
from tracker.stitches.ladder import SPREAD, passes_of_rungs, sew
from tracker.stitches.stitch import Stitch, plain_band, shapes_of

ALONG = -90.0
"""Tilt of a bead whose hole runs along the band: an upward pass goes the way the band grows."""


def gauge(design: Design) -> Gauge:
    """Row pitch, width and length, by the beads' own sizes."""
    seed = design.own_seed
    outline = _outline(design, 2)
    halves = max(first + 2 * beads for first, beads in outline)
    return Gauge(
        start=0.0,
        pitch=seed.length,
        width=halves / 2 * seed.diameter,
        pitch_spread=SPREAD,
        start_spread=0.5,
        width_spread=SPREAD,
    )


def band_of(design: Design, rows: int) -> Band:
    """A design's band, with its outline if that is drawn."""
    outline = _outline(design, rows) if design.layout.kind == "shape" else ()
    return replace(plain_band(design, rows), outline=outline)


def _outline(design: Design, rows: int) -> Outline:
    if design.layout.kind == "shape":
        return drawn_outline(design.layout.lines)
    return straight(design.lanes, rows)


def straight(lanes: int, rows: int) -> Outline:
    """The outline of a straight band: every other row stands half a bead further up."""
    return tuple((row % 2, lanes) for row in range(rows))


def first_shift(outline: Outline, row: int) -> int:
    """By how many half beads a row (from 2) begins further in than the row before ends; -1 is out.

    Odd rows begin at the lower edge, even ones at the upper.
    """
    (before, beads_before), (first, beads) = outline[row - 2 : row]
    if row % 2:
        return first - before
    return before + 2 * beads_before - first - 2 * beads


# --- the path ------------------------------------------------------------------------------


def weave(design: Design, rows: int) -> ThreadPath:
    """The thread path of `rows` rows (2 or more)."""
    work = _Work(design, rows)
    before = work.ladder()
    for row in range(2, rows + 1):
        before = work.row(row, before)
    return work.build.path()


class _Work:
    def __init__(self, design: Design, rows: int) -> None:
        self.build = PathBuilder(shapes_of(design), goes_under=True)
        self._seed = design.own_seed
        self._outline = _outline(design, rows)
        self._colour = STITCH.colouring(design, rows)

    def ladder(self) -> list[int]:
        """Row 1. Its beads from the edge at which it ends, where the thread comes out ahead."""
        _, beads = self._outline[0]
        self.build.start_row("start", "up", 0.0)
        there: list[int] = []
        for lane in range(1, beads + 1):
            there.append(self._pick_up(1, lane, ahead=_ahead(lane, beads)))
            if lane > 1:
                sew(self.build, there[-2:-1], there[-1:], back=not _ahead(lane, beads))
                self.build.end_step()
        self.build.end_row()
        return there[::-1]

    def row(self, row: int, before: list[int]) -> list[int]:
        """A row upon the one before (from the edge where that ended); its own beads likewise."""
        _, beads = self._outline[row - 1]
        lanes = range(1, beads + 1) if row % 2 else range(beads, 0, -1)
        self.build.start_row("rows", "up" if row % 2 else "down", self._x(row))
        thread = 0 if first_shift(self._outline, row) < 0 else min(1, len(before) - 2)
        if beads == 1:
            there = [self._hang(row, 1, before, 0)]
            self.build.end_step()
        else:
            edge = self._pick_up(row, lanes[0], ahead=True)
            second = self._hang(row, lanes[1], before, thread)
            self._go_through(row, edge, ahead=False)
            self._go_through(row, second, ahead=True)
            self.build.end_step()
            there = [edge, second]
        for lane in lanes[2:]:
            thread = min(thread + 1, len(before) - 2)
            there.append(self._hang(row, lane, before, thread))
            self.build.end_step()
        self.build.end_row()
        return there[::-1]

    def _hang(self, row: int, lane: int, before: list[int], thread: int) -> int:
        bead = self._pick_up(row, lane, ahead=False)
        self.build.go_under(before[thread], before[thread + 1])
        # Beginners go down through the bead below instead of under its thread.
        self.build.pass_by(before[thread + 1])
        self._go_through(row, bead, ahead=True)
        return bead

    def _pick_up(self, row: int, lane: int, *, ahead: bool) -> int:
        return self.build.pick_up(
            self._seed.name, self._colour(row, lane), self._at(row, lane), back=ahead != row % 2
        )

    def _go_through(self, row: int, bead: int, *, ahead: bool) -> None:
        self.build.go_through(bead, back=ahead != row % 2)

    def _at(self, row: int, lane: int) -> Place:
        first, _ = self._outline[row - 1]
        return place(self._x(row), (first + 2 * lane - 1) / 2 * self._seed.diameter, ALONG)

    def _x(self, row: int) -> float:
        return (row - 1) * self._seed.length


def _ahead(lane: int, beads: int) -> bool:
    """Whether the needle goes ahead through a bead of the ladder: in the last one it does."""
    return (beads - lane) % 2 == 0


# --- what a proof must find -----------------------------------------------------------------


def expected(band: Band) -> Expected:
    """The counts, by formula.

    The ladder is a ladder's, ahead and back by turns. Of a later row the first bead holds the
    thread twice, the second three times, the others twice; each is gone through back once, the
    others ahead. Every bead but a row's first hangs on a thread, counted from where the row before
    ended: the k-th of a row (from 0) on thread k - 1 if the row begins further out, else on thread
    k, and on the last one if there is none so far in.
    """
    outline = band.outline
    if len(outline) != band.rows:
        outline = straight(band.lanes, band.rows)
    _, beads = outline[0]
    passes = bytearray(passes_of_rungs(beads))
    upward = bytearray(
        times if _ahead(lane, beads) else 0 for lane, times in enumerate(passes, start=1)
    )
    threads: list[tuple[int, int]] = []
    for row in range(2, band.rows + 1):
        last, before = len(passes) - 1, beads
        _, beads = outline[row - 1]
        in_by = (first_shift(outline, row) - 1) // 2
        passes += bytes([2, 3, *[2] * (beads - 2)] if beads > 1 else [2])
        upward += bytes([1, 2, *[1] * (beads - 2)] if beads > 1 else [1])
        for k in range(min(1, beads - 1), beads):
            thread = min(k + in_by, before - 2)
            threads.append((last - thread, last - thread - 1))
    return Expected(
        tiles=0,
        seeds=len(passes),
        passes=bytes(passes),
        upward=bytes(upward),
        longest_span=longest_span(band, tip=beads == 1),
        under=len(threads),
        threads=tuple(threads),
        passed_by=len(threads),
    )


def longest_span(band: Band, *, tip: bool) -> float:
    """From hole to hole of neighbours, with a little give; to a single last bead by its far end."""
    seed = band.own_seed
    beside = seed.diameter + seed.length / 4
    far = ((seed.diameter / 2) ** 2 + seed.length**2) ** 0.5 + seed.diameter / 4
    return max(beside, far) if tip else beside


# --- words -----------------------------------------------------------------------------------


def through(run: Run, *, full: bool) -> str:
    """The bead before it in the ladder, or the new ones by their order."""
    colour, kind = called(run.beads, run.beads.bead(run.first.bead))
    added = list(run.step.picked_up())
    if run.row.number == 1:
        if len(added) == 2:
            return "both again, each the way it was strung" if full else "both again"
        if run.just_added:
            return f"the {colour} {kind} you just added" if full else "the new one"
        which = f"the {colour} {kind} before it, the way it was strung"
        return which if full else "the one before"
    if len(added) != 2 or not run.just_added:
        which = f"the {colour} {kind}{' you just added' if run.just_added else ''}"
        return which if full else "the new one"
    which = "first" if run.first.bead == added[0] else "second"
    again = "" if run.first.bead == added[0] or run.first is not run.step.passes[-1] else " again"
    return f"the {which} one{again}, the {colour} {kind}" if full else f"the {which}{again}"


def pass_by(run: Run, passed: Sequence[int], *, full: bool) -> str:
    """The bead below, of which only the thread is meant."""
    names = [" ".join(called(run.beads, run.beads.bead(bead))) for bead in passed]
    return listed([f"the {name} below, it is full" if full else f"{name} below" for name in names])


def under(run: Run, between: tuple[int, int], *, full: bool) -> str:
    """Which thread of the row before, counted from the edge at which the row begins."""
    edge = run.row.beads[0].id - 1 if run.row.beads else -1
    steps = run.row.steps
    earlier = steps[steps.index(run.step) - 1].under if run.step is not steps[0] else ()
    if earlier and earlier[-1].beads == between:
        which = "same thread again"
    elif earlier:
        which = "next thread"
    else:
        which = "first thread" if edge in between else "second thread"
    if not full:
        return f"the {which}"
    return f"the {which}, {between_two(run, between, full=True).removeprefix('the thread ')}"


def _together(run: Run) -> object:
    return "ladder" if run.row.number == 1 and len(list(run.step.picked_up())) == 2 else run.first


def hint(row: int, step: int, _lanes: int) -> str:
    """What a learner should see."""
    if row == 1:
        return "the beads fold side by side; keep the strip flat, its threads at either end"
    if step == 1:
        return "the two stand side by side at the edge, and no thread shows along it"
    return "the new bead stands over a gap, its hole the way the work grows"


STITCH = Stitch(
    name="brick stitch",
    demands=Demands(
        tile=False,
        own_seeds=False,
        across="lanes",
        least=2,
        most=80,
        usual=6,
        in_rank=1,
        shaped=True,
    ),
    gauge=gauge,
    weave=weave,
    band=band_of,
    expected=expected,
    wording=Wording(through=through, pass_by=pass_by, under=under, together=_together),
    hint=hint,
)
