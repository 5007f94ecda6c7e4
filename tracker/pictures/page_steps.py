"""The handout's drawn rows: a figure a step, the start, the rows that repeat, and both ends."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from tracker.path.model import FIRST_END, LEVELLING, SECOND_END, Row
from tracker.path.words import caution, step_sentence
from tracker.pattern.model import Pattern
from tracker.pictures.figure import draw_scene, window_of
from tracker.pictures.paper import escaped
from tracker.pictures.scene import scene_at
from tracker.pictures.symbols import Symbols
from tracker.stitches import find_stitch

START_ROWS = 2
DRAWN_ROWS = 4
"""The start, then an up row and a down row: all later ones are worked like these two."""
_MOST_STEPS = 9
"""Of a row, drawn one by one; of a wider row, its beginning and its end."""
_AT_EACH_END = 3
_TALL = 24.0
"""Across the band, of what a figure shows, mm."""

_HOW = (
    "New beads have a thick rim. The blue line is the way of the needle, from the dot to the "
    "arrow; holes to go through are ringed and numbered in order. A crossed bead is passed by. The "
    "beads are drawn where they come to lie; in the first row they do so when the second is pulled "
    "tight, not before."
)
_REPEAT = (
    "From here on every row is worked like one of these two, an up row and a down row in turn; "
    "only the colours change."
)
_ENDS = {
    LEVELLING: (
        "Levelling the working end",
        "One more pass without tiles: seeds fill the notches of the last row.",
    ),
    FIRST_END: ("The first end", "With the working thread, at the end that was woven last."),
    SECOND_END: ("The second end", "With the tail, at the end that was strung first."),
}
"""Of the sections that close a band: heading and what it is."""
_ALWAYS = ("tail", "check")
"""Notes whose cautions, of needles and of rest, hold for the whole work."""


def drawn_rows(pattern: Pattern, symbols: Symbols, *, large: bool) -> Iterator[str]:
    """The start step by step, and one each of the rows that repeat."""
    yield from _head("The start, step by step", _HOW)
    for row in range(min(DRAWN_ROWS, pattern.woven_rows)):
        if row == START_ROWS:
            yield from _head("The rows that repeat", _REPEAT)
        yield from _drawn_row(pattern, symbols, row, large)


def drawn_ends(pattern: Pattern, symbols: Symbols, *, large: bool) -> Iterator[str]:
    """Every step of the sections that close the band, drawn, each with its caution."""
    closing = range(pattern.woven_rows, pattern.row_count)
    for section, rows in groupby(closing, key=lambda row: pattern.section_names[row]):
        yield from _head(*_ENDS.get(section, (section.capitalize(), "")))
        for row in rows:
            yield from _drawn_row(pattern, symbols, row, large, wide=section == LEVELLING)


def closing_cautions(pattern: Pattern) -> Iterator[str]:
    """What to be careful of at the ends and nowhere else, each once, in the order of the work."""
    rows = (pattern.row(row) for row in range(pattern.woven_rows, pattern.row_count))
    steps = (step for row in rows for step in row.steps if step.note not in _ALWAYS)
    return iter(dict.fromkeys(text for step in steps if (text := caution(pattern, step))))


def _head(heading: str, said: str) -> Iterator[str]:
    yield f'<h2>{escaped(heading)}</h2>\n<p class="lead">{escaped(said)}</p>'


def _drawn_row(
    pattern: Pattern, symbols: Symbols, row: int, large: bool, *, wide: bool = True
) -> Iterator[str]:
    """A row's steps; of one that is `wide`, those in the middle are left out."""
    found = pattern.row(row)
    steps = len(found.steps)
    across = 2 if large else 3 if steps == 3 else 4
    yield f"<h3>Row {row + 1}, {found.heading}</h3>"
    yield f'<ol class="steps" style="--across:{across}">'
    for at in range(steps):
        left_out = steps - 2 * _AT_EACH_END
        if wide and steps > _MOST_STEPS and _AT_EACH_END <= at < steps - _AT_EACH_END:
            if at == _AT_EACH_END:
                yield (
                    f"<li><strong>{at + 1} to {at + left_out}</strong> are worked alike; "
                    "their colours stand below, in the rows in words.</li>"
                )
            continue
        yield from _drawn_step(pattern, symbols, (found, at), large=large)
    yield "</ol>"


def _drawn_step(
    pattern: Pattern, symbols: Symbols, place: tuple[Row, int], *, large: bool
) -> Iterator[str]:
    row, at = place
    step = row.steps[at]
    said = step_sentence(pattern, row, step, full=True)
    drawn = ""
    if step.passes:  # a knot or a cut is no picture of beads
        scene = scene_at(pattern, row.number - 1, at, back=2)
        drawn = draw_scene(
            scene,
            symbols,
            title=f"Row {row.number}, step {at + 1}: {said}",
            zoom=3.2 if large else 2.6,
            window=window_of(scene, _TALL),
        )
    hint = ""
    if row.number <= pattern.woven_rows:
        hint = find_stitch(pattern.stitch).hint(row.number, at + 1, pattern.wide)
    asides = [hint, _warned(caution(pattern, step))]
    yield (
        f"<li><figure>{drawn}<figcaption><strong>{at + 1}.</strong> {escaped(said)}"
        + "".join(f"<br><small>{escaped(aside)}</small>" for aside in asides if aside)
        + "</figcaption></figure></li>"
    )


def _warned(text: str) -> str:
    return f"Caution: {text}" if text else ""
