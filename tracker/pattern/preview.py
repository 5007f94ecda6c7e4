"""What a draft comes to, quickly enough to be seen while it is typed. Pure.

A long band is woven as far as a screen shows and a proof needs; the rest of it repeats row by
row, so that its figures can be told without it.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from itertools import accumulate, pairwise

from tracker.beads.catalogue import Needle
from tracker.design.editing import Checked, Draft, checked
from tracker.design.layout import tile_colour
from tracker.design.model import Design, Layout, Size
from tracker.fit.fitting import fit_lines, fit_of
from tracker.path.gauge import Gauge
from tracker.pattern.compiler import compile_design, gauge_of, rows_of
from tracker.pattern.model import Pattern
from tracker.pattern.stock import beads_of
from tracker.pattern.supplies import supplies_of
from tracker.pattern.thread_plan import plan_thread
from tracker.problems import ProblemsError
from tracker.records import record
from tracker.stitches import demands, find_stitch

MOST_TILES = 4000
"""A band of no more is woven whole: it takes about a quarter of a second."""


@record(kw_only=True)
class Preview:
    """The figures of a design, and the part of its pattern that is drawn. Lengths in mm."""

    design: Design
    pattern: Pattern
    """Of the first rows, or of all."""
    rows: int
    """Of the whole band."""
    gauge: Gauge
    beads: Counter[str]
    """By kind (t, s) and colour, such as "tA"."""
    thread: float
    """All thread, with the tail and what the ends lose."""
    lengths: int
    needle: Needle | None
    steps: int
    """Of the whole band."""
    inside: float | None
    """Inside girth of the closed band, where it is to fit a wrist."""
    ease: float
    """What that is more than the wrist."""
    notes: tuple[str, ...]
    """What the designer should hear, a sentence each."""


@record
class Seen:
    """A draft as it was read and, where it can be woven, what it comes to."""

    checked: Checked
    preview: Preview | None


def seen(draft: Draft, old_text: str) -> Seen:
    """What there is to see of a draft. Raises nothing: problems are in what was checked."""
    found = checked(draft, old_text, stitches=demands())
    if found.design is None:
        return Seen(found, None)
    try:
        return Seen(found, preview_of(found.design))
    except ProblemsError as error:
        return Seen(replace(found, problems=error.problems), None)


def preview_of(design: Design) -> Preview:
    """The preview of a design; raises ProblemsError where it cannot be woven or proved."""
    gauge = gauge_of(design, find_stitch(design.stitch))
    rows = rows_of(design, gauge)
    some = max(8, 2 * MOST_TILES // design.wide // 2 * 2)
    # Ends have steps and beads of their own, which no row tells of; where a row fills every lane
    # its colours are not told by ranks.
    by_ranks = design.columns and find_stitch(design.stitch).demands.in_rank == 2
    whole = rows <= some or design.closure.kind != "none" or not by_ranks
    compiled = compile_design(design if whole else _first_rows(design, rows, some))
    pattern = compiled.pattern
    supplies = supplies_of(pattern)
    plan = plan_thread(_thread_before(pattern, rows), design.thread)
    steps = sum(map(pattern.steps_in, range(pattern.row_count)))
    more = 0 if whole else rows - some
    fit = fit_of(design, design.closure.length)
    return Preview(
        design=design,
        pattern=pattern,
        rows=rows,
        gauge=gauge,
        beads=pattern.totals if whole else beads_of(design, rows),
        thread=supplies.thread if whole else plan.needed,
        lengths=supplies.lengths if whole else plan.lengths,
        needle=supplies.needle,
        steps=steps + more * pattern.steps_in(_last_row(pattern)),
        inside=None if fit is None else fit.inside(gauge.length(rows)),
        ease=0.0 if fit is None else fit.ease_of(gauge.length(rows)),
        notes=(*compiled.notes, *(fit_lines(fit, gauge) if fit else ())),
    )


def _first_rows(design: Design, rows: int, some: int) -> Design:
    """The design with the first rows only, and every tile of them in the colour that it has."""
    colour = tile_colour(design.layout, design.columns, rows)
    lines = tuple(
        "".join(
            colour(rank + 2, column) + colour(rank + 1, column)
            for column in range(1, design.columns + 1)
        )
        for rank in range(0, some, 2)
    )
    layout = Layout(seeds=design.layout.seeds, kind="chart", lines=lines)
    return replace(design, size=Size(rows=some), fit=None, layout=layout)


def _last_row(pattern: Pattern) -> int:
    """The last row of the heart of the band."""
    sections = pattern.section_names
    return max((i for i, name in enumerate(sections) if name == "rows"), default=len(sections) - 1)


def _thread_before(pattern: Pattern, rows: int) -> tuple[float, ...]:
    """The thread before each row of a band of so many, whose rows go on as its last two do."""
    taken = [after - before for before, after in pairwise(pattern.thread_before)]
    last = _last_row(pattern)
    missing = rows - last - 1
    if missing <= 0:
        return pattern.thread_before
    again = [taken[last - 1 + i % 2] for i in range(missing)]
    return (0.0, *accumulate([*taken[: last + 1], *again, *taken[last + 1 :]]))
