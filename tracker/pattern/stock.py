"""Which changes to a design would fit the beads on hand. Pure; rows count from 1.

A change is proposed only after its beads have been counted, tile by tile, and it leaves the rows
done already as they are.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from itertools import combinations, groupby
from typing import Literal

from tracker.design.closure_reader import FEWEST_ROWS as FEWEST_CLOSED_ROWS
from tracker.design.layout import repeat_rows, tile_colour
from tracker.design.lengths import written
from tracker.design.model import NO_CLOSURE, Design, Layout, Size
from tracker.fit.fitting import fit_of
from tracker.pattern.compiler import gauge_of, rows_of
from tracker.problems import ProblemsError
from tracker.records import record
from tracker.stitches import find_stitch
from tracker.stitches.herringbone_closures import loop_seeds

Kind = Literal["fewer rows", "another stripe width", "two colours swapped"]
Widths = tuple[int, ...]

_MOST_TRIED = 2000
"""Stripe widths looked at: more than two changes to any but the most finely striped band."""
_WIDEST_CHANGE = 4


@record
class Remedy:
    """A change that fits: the design with it, its rows, its beads ("tA") and the words for it."""

    kind: Kind
    design: Design
    rows: int
    beads: Counter[str]
    words: str


def beads_of(design: Design, rows: int) -> Counter[str]:
    """Beads of a band of so many rows, by kind (t, s) and colour, counted by its layout.

    The colours of tiles repeat, so whole repeats are counted once and multiplied; a band of seeds
    alone, or of tiles alone, is woven for it.
    """
    if not rows:
        return Counter()
    if design.tile is None or design.seed is None:
        return _woven_beads(design, rows)
    layout, columns = design.layout, design.columns
    colour = tile_colour(layout, columns, rows)
    repeats, rest = divmod(rows, _period(layout))
    first = min(_period(layout), rows)
    counted: Counter[str] = Counter()
    for row in range(1, first + 1):
        times = repeats + (row <= rest) if repeats else 1
        for column in range(1, columns + 1):
            counted[f"t{colour(row, column)}"] += times
    # The start is one piece: the seeds of its rows are not told apart.
    closure = design.closure if rows >= FEWEST_CLOSED_ROWS else NO_CLOSURE
    stitch = find_stitch(design.stitch)
    closed = replace(design, closure=closure)
    expected = stitch.expected(stitch.band(closed, max(rows, stitch.demands.fewest_rows)))
    loops = loop_seeds(closure, columns, design.seed)
    counted[f"s{layout.seeds}"] = expected.seeds - loops
    if loops:
        counted[f"s{closure.colour}"] += loops
    return counted


def _woven_beads(design: Design, rows: int) -> Counter[str]:
    stitch = find_stitch(design.stitch)
    path = stitch.weave(design, max(rows, stitch.demands.fewest_rows))
    return Counter(f"{bead.kind[0]}{bead.colour}" for row in path.rows for bead in row.beads)


def _period(layout: Layout) -> int:
    return 2 if layout.kind == "lanes" else repeat_rows(layout)


def remedies(design: Design, stock: Mapping[str, int], done: int = 0) -> tuple[Remedy, ...]:
    """The smallest change of each sort with which the stock lasts; none if it does anyway.

    `stock` is what there is for the whole band, by kind and colour ("tA"), the beads of the first
    `done` rows (done, or begun) among them; a kind that is not in it is not short. Raises
    ProblemsError if the design asks for more rows than go.
    """
    trial = _Trial(design, stock, done)
    if not trial.short:
        return ()
    if design.layout.kind == "written":
        return ()
    ways = (_swapped,) if design.layout.kind == "shape" else (_fewer_rows, _other_widths, _swapped)
    found = (way(trial) for way in ways)
    return tuple(remedy for remedy in found if remedy is not None)


class _Trial:
    """A design that may be short of beads, and the test of every change to it."""

    def __init__(self, design: Design, stock: Mapping[str, int], done: int) -> None:
        self.design = design
        self.gauge = gauge_of(design, find_stitch(design.stitch))
        self.rows = rows_of(design, self.gauge)
        self.done = min(done, self.rows)
        self._stock = stock
        self.body = "s" if design.tile is None else "t"
        """The beads that the layout is of."""
        self._colours = _colours(design, self.rows)
        self.short = self._missing(beads_of(design, self.rows))

    def _missing(self, beads: Counter[str]) -> set[str]:
        return {key for key, there in self._stock.items() if beads[key] > there}

    def _keeps_what_is_done(self, design: Design, rows: int) -> bool:
        colours = _colours(design, rows)
        return rows >= self.done and all(
            colours(row) == self._colours(row) for row in range(1, self.done + 1)
        )

    def fits(self, design: Design, rows: int) -> Counter[str] | None:
        """The beads of the changed design if it goes on from here and the stock lasts."""
        if not self._keeps_what_is_done(design, rows):
            return None
        beads = beads_of(design, rows)
        return None if self._missing(beads) else beads

    def remedy(self, kind: Kind, layout: Layout, words: str) -> Remedy | None:
        """That layout as a remedy, if it is one; the design may then ask for other rows."""
        changed = replace(self.design, layout=layout)
        try:
            rows = rows_of(changed, self.gauge)
        except ProblemsError:  # a whole repeat that is longer than any band
            return None
        beads = self.fits(changed, rows)
        if beads is None:
            return None
        words += f", {rows} rows instead of {self.rows}" if rows != self.rows else ""
        return Remedy(kind, changed, rows, beads, words)

    def name(self, letter: str) -> str:
        """The name of a colour."""
        return self.design.colour(letter).name


def _colours(design: Design, rows: int) -> Callable[[int], str]:
    """The letters of the beads of each row (from 1), across."""
    stitch = find_stitch(design.stitch)
    if stitch.demands.across == "columns" and stitch.demands.in_rank == 2:
        tile = tile_colour(design.layout, design.columns, rows)
        return lambda row: "".join(tile(row, c) for c in range(1, design.columns + 1))
    bead = stitch.colouring(design, rows)
    return lambda row: "".join(bead(row, lane) for lane in range(1, design.wide + 1))


def _fewer_rows(trial: _Trial) -> Remedy | None:
    """The most rows that the stock lasts for; whole ranks of a chart, whole repeats if asked.

    A shape has the rows that are drawn.
    """
    design = trial.design
    if design.layout.kind == "shape":
        return None
    fit = fit_of(design, design.closure.length)
    demands = find_stitch(design.stitch).demands
    in_line = demands.in_rank if design.layout.kind == "chart" else 1
    step = max(in_line, fit.repeat_rows if fit else 1)
    fewest = demands.fewest_rows if design.closure == NO_CLOSURE else FEWEST_CLOSED_ROWS
    least = max(fewest, trial.done)
    counts = range(-(-least // step) * step, trial.rows, step)

    def fits_not(rows: int) -> bool:
        return trial.fits(design, rows) is None

    if design.layout.centre and trial.done:
        # The middle moves with the end: few other lengths leave the rows done as they are.
        rows = next((rows for rows in reversed(counts) if not fits_not(rows)), 0)
    else:
        # A band is a part of every longer one, so those that fit come before those that do not.
        fitting = bisect_left(counts, True, key=fits_not)
        rows = counts[fitting - 1] if fitting else 0
    beads = trial.fits(design, rows) if rows else None
    if beads is None:
        return None
    length, before = (written(trial.gauge.length(n), places=0) for n in (rows, trial.rows))
    changed = replace(design, size=Size(rows=rows), fit=None)
    words = f"weave {rows} rows, {length}, instead of {trial.rows} rows, {before}"
    if fit is not None:
        ease = fit.ease_of(trial.gauge.length(rows))
        words += f": {abs(ease):.0f} mm {'of ease' if ease >= 0 else 'less than the wrist'}"
    return Remedy("fewer rows", changed, rows, beads, words)


def _swapped(trial: _Trial) -> Remedy | None:
    """Two colours change places; one of them is short."""
    layout = trial.design.layout
    letters = sorted({letter for line in layout.lines for letter in line} - {" "})
    for one, other in combinations(letters, 2):
        if not {trial.body + one, trial.body + other} & trial.short:
            continue
        swap = str.maketrans(one + other, other + one)
        lines = tuple(line.translate(swap) for line in layout.lines)
        words = f"swap {trial.name(one)} and {trial.name(other)}"
        remedy = trial.remedy("two colours swapped", replace(layout, lines=lines), words)
        if remedy is not None:
            return remedy
    return None


# --- stripes -----------------------------------------------------------------------------------


def _other_widths(trial: _Trial) -> Remedy | None:
    """The nearest other widths of the stripes, lengthwise or crosswise, with which it lasts."""
    layout = trial.design.layout
    if layout.kind in ("chart", "shape"):
        return None
    letters = "".join(layout.lines)
    stripes = [(letter, len(list(run))) for letter, run in groupby(letters)]
    colours, widths = [s[0] for s in stripes], tuple(s[1] for s in stripes)
    lanes = layout.kind == "lanes"
    candidates = (
        _lane_widths(widths, even=letters == letters[::-1])
        if lanes
        else _row_widths(trial, colours, widths)
    )
    for candidate in candidates:
        said = "".join(c * width for c, width in zip(colours, candidate, strict=True))
        lines = (said,) if lanes else tuple(said)
        words = f'make the stripes {layout.kind} = "{said}" instead of "{letters}"'
        remedy = trial.remedy("another stripe width", replace(layout, lines=lines), words)
        if remedy is not None:
            return remedy
    return None


def _lane_widths(widths: Widths, *, even: bool) -> Iterator[Widths]:
    """Widths of lengthwise stripes that sum to the same, nearest first.

    One lane goes from one stripe to another; an `even` band, the same from both edges, stays so.
    """
    last = len(widths) - 1

    def moved(now: Widths) -> Iterator[Widths]:
        for i in range(len(now)):
            for j in range(len(now)):
                new = list(now)
                for a, b in {(i, j), (last - i, last - j)} if even else {(i, j)}:
                    new[a] -= 1
                    new[b] += 1
                yield tuple(new)

    return _nearest_first(widths, moved)


def _nearest_first(start: Widths, moved: Callable[[Widths], Iterator[Widths]]) -> Iterator[Widths]:
    seen, now = {start}, [start]
    while now:
        following = []
        for widths in now:
            for new in moved(widths):
                if new not in seen and min(new) >= 1:
                    if len(seen) > _MOST_TRIED:
                        return
                    seen.add(new)
                    following.append(new)
                    yield new
        now = following


def _row_widths(trial: _Trial, colours: list[str], widths: Widths) -> Iterator[Widths]:
    """Widths of crosswise stripes: those of short colours narrower, those of another one wider.

    By two rows, where every stripe fills both lanes, so that it goes on to do so.
    """
    step = 2 if all(width % 2 == 0 for width in widths) else 1
    short = {key[1] for key in trial.short if key[0] == trial.body}
    changes = [
        (narrower, wider, other)
        for narrower in range(_WIDEST_CHANGE + 1)
        for wider in range(_WIDEST_CHANGE + 1)
        for other in sorted(set(colours) - short)
        if narrower or wider
    ]
    for narrower, wider, other in sorted(changes, key=lambda c: (c[0] + c[1], c[1])):
        by = {**dict.fromkeys(short, -narrower * step), other: wider * step}
        new = tuple(w + by.get(c, 0) for c, w in zip(colours, widths, strict=True))
        if min(new) >= 1 and new != widths:
            yield new
