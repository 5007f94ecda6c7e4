"""What the commands say in words, as lines of plain text."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from tracker.design.model import NO_CLOSURE
from tracker.fit.fitting import fit_lines
from tracker.path.proof.prove import Proof
from tracker.path.words import caution, name_of, step_sentence
from tracker.pattern.compiler import room_of
from tracker.pattern.model import Pattern
from tracker.pattern.supplies import SPARE, BeadSupply, supplies_of, thread_lines
from tracker.progress.left import Left, duration

RULES = 7


def summary(pattern: Pattern) -> Iterator[str]:
    """A pattern in a few lines: what it is, how big, what of."""
    gauge, rows = pattern.gauge, pattern.woven_rows
    low, high = gauge.length_range(rows)
    wide = gauge.width * gauge.width_spread
    yield f"{pattern.name}: {pattern.stitch}, {pattern.width_words}, {rows} rows"
    yield (
        f"length  {gauge.length(rows):.0f} mm predicted ({low:.0f} to {high:.0f}), "
        f"a row {gauge.pitch:.2f} mm"
    )
    across = "girth" if pattern.around else "width"
    yield f"{across}   {gauge.width:.1f} mm predicted, give or take {wide:.1f}"
    if pattern.target is not None:
        fewest, most = gauge.rows_range(pattern.target)
        yield f"target  {pattern.target:.0f} mm: {rows} rows, {fewest} to {most} to be expected"
    closure = pattern.closure
    if closure != NO_CLOSURE:
        yield (
            f"closure {closure.kind}, about {closure.length:.0f} mm more on the wrist, "
            f"{pattern.row_count - rows} rows"
        )
    if pattern.fit is not None:
        yield from fit_lines(pattern.fit, gauge)
    yield from supply_lines(pattern)


def supply_lines(
    pattern: Pattern, spare: float = SPARE, packages: Collection[str] = (), *, cuts: bool = False
) -> Iterator[str]:
    """Beads, thread and needle; what to buy in such packages; each length of thread if asked for.

    Raises ValueError, in words, if a package holds not one bead.
    """
    supplies = supplies_of(pattern, spare)
    for bead in supplies.beads:
        yield bead_words(pattern, bead, spare, packages)
    for name, count in supplies.findings:
        yield f"{name}: {count}"
    metres = supplies.thread / 1000
    cut = pattern.thread.length / 1000
    yield (
        f"thread  {metres:.1f} m of {pattern.thread.diameter:.2f} mm, "
        f"{supplies.lengths} of {cut:g} m"
    )
    if supplies.needle is None:
        yield "needle  none known passes: take a finer thread or beads with larger holes"
    else:
        yield f"needle  size {supplies.needle.size} or finer"
    if cuts:
        yield from thread_lines(supplies)


def bead_words(pattern: Pattern, bead: BeadSupply, spare: float, packages: Collection[str]) -> str:
    """`teal half tile: 68, with 10% spare 75 (3.7 g)`, and what to buy in such packages."""
    words = (
        f"{bead.colour}  {pattern.colour(bead.colour).name} {bead.shape.name}: {bead.count}, "
        f"with {spare:.0%} spare {bead.with_spare} ({bead.grams:.1f} g)"
    )
    if not packages:
        return words
    bought = bead.purchase(packages)
    return f"{words}; buy {bought.words()}, {bought.over} over"


def proof_lines(pattern: Pattern, proof: Proof) -> Iterator[str]:
    """What the proof has found."""
    yield (
        f"{pattern.name}: proved by all {RULES} rules: {proof.beads} beads, {proof.passes} passes"
    )
    if proof.tightest is not None:
        tight = proof.tightest
        bead = pattern.bead(tight.bead)
        room = room_of(pattern.thread)
        limits = ", ".join(f"{shape.name} {room(shape)}" for shape in pattern.shapes.values())
        yield (
            f"fullest hole: {tight.passes} of {tight.limit} passes, first in the "
            f"{name_of(pattern, bead)} of row "
            f"{pattern.row_of(tight.bead) + 1} (a hole takes: {limits})"
        )


def row_lines(pattern: Pattern, *, full: bool) -> Iterator[str]:
    """All rows in words, a step a line."""
    for number in range(pattern.row_count):
        row = pattern.row(number)
        yield f"Row {row.number} of {pattern.row_count}, {row.heading} ({row.section})"
        for i, step in enumerate(row.steps, start=1):
            yield f"  {i}. {step_sentence(pattern, row, step, full=full)}"
            if caution(pattern, step):
                yield f"     Caution: {caution(pattern, step)}"


def left_lines(pattern: Pattern, piece: str, left: Left) -> Iterator[str]:
    """What is still to do."""
    if left.finished:
        yield f"{piece}: finished, {left.rows} rows"
        return
    yield (
        f"{piece}: row {left.row} of {left.rows}, step {left.step} of {left.steps} ({left.section})"
    )
    low, high = left.rows_left_range
    span = f", {low} to {high} to be expected" if low != high else ""
    yield f"rows    {left.rows_left} to go{span}"
    yield (
        f"length  {left.length:.0f} mm of {left.target:.0f} mm predicted, "
        f"{left.length_left:.0f} mm to go"
    )
    for key, kind in pattern.kinds():
        name = pattern.colour(kind.colour).name
        yield f"{kind.colour}  {name} {kind.shape.name}: {left.beads[key]} to go"
    join = "lasts to the end" if left.join_in_rows is None else _join(left.join_in_rows)
    yield f"thread  {left.thread / 1000:.2f} m on the needle, {join}"
    if left.minutes is not None:
        yield f"time    {duration(left.minutes)} at your pace"


def _join(rows: int) -> str:
    return "join a new one after this row" if rows == 1 else f"join a new one after {rows} rows"
