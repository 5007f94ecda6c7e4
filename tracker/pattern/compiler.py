"""From a design to a proved pattern: size, weave, prove, write down.

A path that cannot be proved is not compiled, whatever the reason.
"""

from __future__ import annotations

import gc
import math
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from itertools import groupby

from tracker.beads.catalogue import needles
from tracker.beads.holes import passes_that_fit
from tracker.beads.model import Shape
from tracker.colours.warnings import alike
from tracker.design.closure_reader import FEWEST_ROWS as FEWEST_CLOSED_ROWS
from tracker.design.lengths import written
from tracker.design.model import NO_CLOSURE, Design, Thread
from tracker.fit.fitting import choices, fit_of
from tracker.fit.swatch import with_swatch
from tracker.path.band import Band
from tracker.path.gauge import Gauge
from tracker.path.model import SECOND_END, ThreadPath
from tracker.path.proof.prove import Proof, prove
from tracker.pattern.model import Pattern, Section
from tracker.pattern.notation import encode, encode_places
from tracker.pattern.reader import parse_pattern
from tracker.pattern.thread_plan import shortest_thread
from tracker.pattern.writer import write
from tracker.problems import Problem, ProblemsError
from tracker.records import record
from tracker.stitches import find_stitch
from tracker.stitches.stitch import Stitch, problem_of

MOST_ROWS = 5000
HOLD = 80.0
"""Thread by which the last stitches of an end are still held, with their knots, mm (common
practice: a hand's breadth)."""


@record
class Compiled:
    """A pattern with its file's text, its proof, and advice on its beads ("" if none)."""

    pattern: Pattern
    text: str
    proof: Proof
    advice: str

    @property
    def notes(self) -> tuple[str, ...]:
        """What the designer should hear, a sentence each: beads that do not suit, colours alike."""
        alike_ = (f"{p.where}: {p.what}; {p.mend}" for p in alike(self.pattern.colours))
        return (*((self.advice,) if self.advice else ()), *alike_)


def compile_design(design: Design) -> Compiled:
    """Compile a design; raises ProblemsError where it cannot be woven or proved."""
    with _no_collecting():
        stitch = find_stitch(design.stitch)
        unsuited = stitch.unsuited(design)
        gauge = gauge_of(design, stitch)
        rows = rows_of(design, gauge)
        path = stitch.weave(design, rows)
        proof = prove_path(path, stitch, stitch.band(design, rows), design.thread)
        if not stitch.demands.written and any(fault.rule in (3, 6) for fault in proof.faults):
            if design.closure != NO_CLOSURE and _woven_alone(design, stitch, rows):
                what = f"the ends with {design.closure.kind} cannot be proved with these beads"
                mend = 'take another closure, or kind = "none" and finish the ends by hand'
                raise ProblemsError([Problem("closure.kind", what, mend)])
            # Where the beads will not lie as the stitch needs them, no single step is to blame.
            why = unsuited or "their measures do not go together"
            what = f"no thread path can be proved with these beads: {why}"
            mend = "take other beads, or measure them again"
            raise ProblemsError([Problem("beads", what, mend)])
        if proof.faults:
            raise ProblemsError(stitch.blame(design, fault) for fault in proof.faults)
        _check_thread(design.thread, path)
        text = write(_written_down(design, stitch.band(design, rows), gauge, path))
        # Read back what will be opened one day: what was proved is what stands in the file.
        pattern = parse_pattern(text)
    advice = f"{unsuited}: weave a small swatch before the band" if unsuited else ""
    return Compiled(pattern, text, proof, advice)


def _woven_alone(design: Design, stitch: Stitch, rows: int) -> bool:
    """Whether the band without its closure is proved."""
    alone = replace(design, closure=NO_CLOSURE)
    path = stitch.weave(alone, rows)
    return not prove_path(path, stitch, stitch.band(alone, rows), design.thread).faults


def prove_pattern(pattern: Pattern) -> Proof:
    """Prove a pattern again from what its file says; raises ProblemsError for faults."""
    with _no_collecting():
        try:
            stitch = find_stitch(pattern.stitch)
        except KeyError:
            what = f'"{pattern.stitch}" is no stitch of this tracker'
            raise ProblemsError([Problem("stitch", what, "update the tracker")]) from None
        proof = prove_path(pattern.path(), stitch, pattern.band, pattern.thread)
    if proof.faults:
        raise ProblemsError(problem_of(None, fault) for fault in proof.faults)
    return proof


def prove_path(path: ThreadPath, stitch: Stitch, band: Band, thread: Thread) -> Proof:
    """Prove that a path is that of a band in a stitch, its ends and all."""
    return prove(path, stitch.expected(band), room_of(thread))


def room_of(thread: Thread) -> Callable[[Shape], int]:
    """How many passes a shape's hole takes of a thread, with the thinnest needle there is."""
    eye = min(needle.eye for needle in needles())
    return lambda shape: passes_that_fit(shape.hole, thread.diameter, eye)


def gauge_of(design: Design, stitch: Stitch) -> Gauge:
    """The gauge of a design: by its swatch if it has one, else as the stitch predicts it.

    As exact as the file keeps it, so that a design and its pattern speak of one length.
    """
    gauge = stitch.gauge(design)
    if design.swatch is not None:
        gauge = with_swatch(gauge, design.swatch)
    return _to_four_places(gauge)


def rows_of(design: Design, gauge: Gauge) -> int:
    """The rows that a design asks for; raises ProblemsError if its length asks for too many."""
    if design.layout.kind == "shape":
        return len(design.layout.lines)
    if design.layout.kind == "written":
        return find_stitch(design.stitch).band(design, 0).rows
    if design.size.rows is not None:
        return design.size.rows
    fit = fit_of(design, design.closure.length)
    if fit is not None:
        where, length = "fit", fit.target
        rows = choices(fit, gauge).taken.rows
    else:
        assert design.size.length is not None, "without a fit, a size is a length or rows"
        where, length = "size.length", design.size.length
        rows = gauge.rows_for(length)
    fewest = find_stitch(design.stitch).demands.fewest_rows
    if design.closure != NO_CLOSURE:
        fewest = FEWEST_CLOSED_ROWS
    if fewest <= rows <= MOST_ROWS:
        return rows
    what = f"{written(length)} takes {rows} rows, from {fewest} to {MOST_ROWS} go"
    limits = [written(gauge.length(n), places=0) for n in (fewest, MOST_ROWS)]
    mend = f"write a length from {limits[0]} to {limits[1]}"
    if fit is not None:
        mend = "take the whole repeats off, or larger beads"
    raise ProblemsError([Problem(where, what, mend)])


def _check_thread(thread: Thread, path: ThreadPath) -> None:
    with_tail = sum(row.thread for row in path.rows if row.section == SECOND_END)
    if with_tail and thread.tail < with_tail + HOLD:
        what = f"a tail of {written(thread.tail)} does not last for closing the end it hangs at"
        mend = f"leave a tail of {written(math.ceil(with_tail + HOLD), places=0)} or more"
        raise ProblemsError([Problem("thread.tail", what, mend)])
    worked = [row.thread for row in path.rows if row.section != SECOND_END]
    shortest = shortest_thread(worked, thread)
    if thread.length < shortest:
        what = f"{written(thread.length)} does not last to a place where a new one can be joined"
        mend = f"cut at least {written(shortest, places=0)} at a time"
        raise ProblemsError([Problem("thread.length", what, mend)])


def _to_four_places(gauge: Gauge) -> Gauge:
    """The gauge as the file keeps it."""
    return Gauge(
        start=round(gauge.start, 4),
        pitch=round(gauge.pitch, 4),
        width=round(gauge.width, 4),
        pitch_spread=gauge.pitch_spread,
        start_spread=gauge.start_spread,
        width_spread=gauge.width_spread,
    )


def _written_down(design: Design, band: Band, gauge: Gauge, path: ThreadPath) -> Pattern:
    letters = _letters(path)
    fit = fit_of(design, design.closure.length)
    places: dict[str, int] = {}
    sections = []
    first = 0
    for name, rows in groupby(path.rows, key=lambda row: row.section):
        lines = []
        for row in rows:
            which = places.setdefault(encode_places(row), len(places) + 1) if row.beads else 0
            lines.append(encode(row, letters, first, which))
            first += len(row.beads)
        sections.append(Section(name, tuple(lines)))
    return Pattern(
        name=design.name,
        stitch=design.stitch,
        columns=design.columns,
        lanes=design.lanes,
        hinge=band.hinge,
        cap=band.cap,
        start=band.start,
        outline=band.outline,
        written=band.written,
        around=round(path.around, 4),
        design=design.digest,
        target=design.size.length if fit is None else round(fit.target, 4),
        fit=fit,
        colours=design.colours,
        shapes={letters[name]: shape for name, shape in path.shapes.items()},
        gauge=gauge,
        thread=design.thread,
        closure=design.closure,
        places=tuple(places),
        sections=tuple(sections),
    )


def _letters(path: ThreadPath) -> dict[str, str]:
    """A letter for each shape's name: t for the tile, s for the seed, others for findings."""
    free = iter("uvwxyz")
    usual = {"tile": "t", "seed": "s"}
    return {name: usual.get(shape.kind) or next(free) for name, shape in path.shapes.items()}


@contextmanager
def _no_collecting() -> Iterator[None]:
    """Hold the garbage collector back: a path is a million small tuples and no cycles.

    Searching them again and again as they grow takes a third of the time of a compile.
    """
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()
