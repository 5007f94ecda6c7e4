"""Rows by hand: any band whose path somebody can say.

The design tells the rows in words (`layout.written`, see `design/written.py`); here they become a
path. It is proved like every other, but for what only a stitch knows: where the beads lie (they are
laid down by `hand_places.py`, so no span is too long), how often each is to be gone through, and
which beads may hold a part alone. What stands for the counts is what the words come to.
"""

from __future__ import annotations

import math
from collections import Counter
from functools import lru_cache

from tracker.beads.model import Shape
from tracker.design.demands import Demands
from tracker.design.model import Design
from tracker.design.written import parse_written
from tracker.design.written_model import problem_at
from tracker.path.band import Band
from tracker.path.builder import PathBuilder
from tracker.path.gauge import Gauge
from tracker.path.model import ThreadPath
from tracker.path.proof.expected import Expected
from tracker.path.proof.hang import holding_alone
from tracker.path.proof.trace import Fault, Trace
from tracker.path.wording import Run, Wording
from tracker.path.wording import through as told_plainly
from tracker.problems import Problem
from tracker.stitches.hand_moves import Told, told
from tracker.stitches.hand_places import lay, sizes
from tracker.stitches.stitch import Stitch, shapes_of

SPREAD = 0.25
"""Expected error of what the laid-down beads say of length and width, as a share."""


@lru_cache(maxsize=4)
def _told(lines: tuple[str, ...], kinds: tuple[str, ...]) -> Told:
    return told(parse_written(lines), kinds)


def _kinds(band: Band) -> tuple[str, ...]:
    return tuple(shape.kind for shape in (band.tile, band.seed) if shape is not None)


def band_of(design: Design, _rows: int) -> Band:
    """The band that the words tell."""
    band = Band(
        lanes=design.wide,
        rows=0,
        tile=design.tile,
        seed=design.seed,
        written=design.layout.lines,
        closure=design.closure,
    )
    rows = len(_told(band.written, _kinds(band)).rows)
    return Band(lanes=design.wide, rows=rows, tile=band.tile, seed=band.seed, written=band.written)


def weave(design: Design, _rows: int) -> ThreadPath:
    """The path that the words tell, all of it."""
    return _woven(design)


@lru_cache(maxsize=4)
def _woven(design: Design) -> ThreadPath:
    band = band_of(design, 0)
    said = _told(band.written, _kinds(band))
    shapes: dict[str, Shape] = {shape.kind: shape for shape in shapes_of(design).values()}
    places = lay(said, shapes)
    build = PathBuilder(shapes_of(design), goes_under=True)
    for row in said.rows:
        new = [places[p.bead].x for step in row.steps for p in step.passes if p.picked_up]
        build.start_row(row.section, row.heading, round(min(new, default=0.0), 2))
        up = row.heading == "up"
        for step in row.steps:
            under = dict(step.under)
            for i, p in enumerate(step.passes):
                if i in under:
                    build.go_under(*under[i])
                if p.picked_up:
                    kind, colour = said.beads[p.bead]
                    build.pick_up(shapes[kind].name, colour, places[p.bead])
                else:
                    build.go_through(p.bead, p.hole, back=p.up != up)
            for bead in step.pass_by:
                build.pass_by(bead)
            build.end_step(turn=step.turn)
        build.end_row()
    return build.path()


def gauge(design: Design) -> Gauge:
    """What the beads as they are laid down measure; good to a quarter, until one is measured."""
    path = _woven(design)
    shapes = path.shapes
    reach = [
        (bead.place, max(sizes(shapes[bead.shape])) / 2) for row in path.rows for bead in row.beads
    ]
    long = max(p.x + r for p, r in reach) - min(p.x - r for p, r in reach)
    wide = max(p.y + r for p, r in reach) - min(p.y - r for p, r in reach)
    return Gauge(
        start=0.0,
        pitch=long / len(path.rows),
        width=wide,
        pitch_spread=SPREAD,
        start_spread=1.0,
        width_spread=SPREAD,
    )


def expected(band: Band) -> Expected:
    """What the words come to, read without weaving: beads, passes, threads gone under."""
    said = _told(band.written, _kinds(band))
    steps = [step for row in said.rows for step in row.steps]
    passes = Counter(p.bead for step in steps for p in step.passes)
    upward = Counter(p.bead for step in steps for p in step.passes if p.up)
    kinds = Counter(kind for kind, _ in said.beads)
    return Expected(
        tiles=kinds["tile"],
        seeds=kinds["seed"],
        passes=bytes(min(255, passes[bead]) for bead in range(len(said.beads))),
        upward=bytes(min(255, upward[bead]) for bead in range(len(said.beads))),
        open_tiles=said.open,
        passed_by=sum(len(step.pass_by) for step in steps),
        under=sum(len(step.under) for step in steps),
        hinges=None,
        drawn=False,
        refilled=True,
        longest_span=math.inf,
    )


def unsuited(design: Design) -> str:
    """Which beads hold a part of the work alone: rows by hand may hang by one thread."""
    alone = holding_alone(Trace.of(_woven(design)))
    if not alone:
        return ""
    counted = "(counted as they are picked up)"
    if len(alone) == 1:
        return f"bead {min(alone) + 1} {counted} alone holds a part of the work"
    some = ", ".join(str(bead + 1) for bead in sorted(alone)[:5])
    more = f" and {len(alone) - 5} more" if len(alone) > 5 else ""
    return f"beads {some}{more} {counted} each hold a part of the work alone"


def through(run: Run, *, full: bool) -> str:
    """A bead by its colour and by what the words call it."""
    said = told_plainly(run, full=full)
    band = run.beads.band
    steps = _told(band.written, _kinds(band)).rows[run.row.number - 1].steps
    # Steps that are equal are called alike, unless names went to other beads between them.
    number = next((i for i, step in enumerate(run.row.steps) if step is run.step), None)
    if number is None:
        return said
    at = next(i for i, p in enumerate(run.step.passes) if p is run.first)
    name = steps[number].names[at]
    return f"{said}, {name}" if name else said


def blame(design: Design, fault: Fault) -> Problem:
    """A broken rule, at the line that tells the step."""
    what = f"rule {fault.rule} of the proof: {fault.what}"
    mend = "see what the words say of this step"
    if fault.rule == 4:
        mend = "go through it, or write `leave NAME open`"
    if fault.rule == 5:
        mend = "take a finer thread or beads with larger holes"
    if not fault.row or not fault.step:
        return Problem("layout.written", what, mend)
    band = band_of(design, 0)
    step = _told(band.written, _kinds(band)).rows[fault.row - 1].steps[fault.step - 1]
    found = problem_at(step.spot, what, mend)
    return Problem(f"{found.where} ({fault.where})", what, mend)


STITCH = Stitch(
    name="rows by hand",
    demands=Demands(
        tile=False,
        seed=False,
        own_seeds=False,
        written=True,
        across="lanes",
        least=1,
        most=1,
        usual=1,
        in_rank=1,
        fewest_rows=1,
    ),
    gauge=gauge,
    weave=weave,
    band=band_of,
    expected=expected,
    unsuited=unsuited,
    blame=blame,
    wording=Wording(through=through, together=lambda run: run.first),
)
