"""The handout: one page that holds all, to print for a class or to lie on the bead mat.

It is one HTML file that fetches nothing: the drawings are inside, and a policy in its head
forbids the rest.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from tracker.colours.warnings import alike
from tracker.path.model import Row
from tracker.path.words import listed, step_sentence
from tracker.pattern.model import Pattern
from tracker.pattern.supplies import SPARE, supplies_of
from tracker.pattern.thread_plan import plan_thread
from tracker.pictures.figure import draw_scene, window_of
from tracker.pictures.folding import Like, fold
from tracker.pictures.page_style import WIDTH, style
from tracker.pictures.paper import escaped, number
from tracker.pictures.scene import scene_at
from tracker.pictures.sheet import MARGIN, UNIT_ROOM, Drawing, facts
from tracker.pictures.svg import draw_svg
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

_POLICY = "default-src 'none'; style-src 'unsafe-inline'"

CAUTIONS = """\
Beading needles are sharp and thin: keep them in their case, count them when you put the work \
away, and look for a lost one with a magnet.
Beads, needles and cut thread are small parts: keep them, and the finished band, away from small \
children and pets, who may choke on them.
Work in good light. Look up and stretch your hands, neck and shoulders every half hour; stop when \
something hurts.
Glass breaks: never force the needle through a tight hole, and protect your eyes if you crush a \
bead to take it out.
What the makers of your beads, thread and tools say, and the rules where you are, come before \
this page."""
"""A line each."""


def html_page(pattern: Pattern, *, large: bool = False) -> str:
    """The handout of a pattern, in normal or in large print."""
    symbols = Symbols({c.letter: c.hex for c in pattern.colours}, letters=True, body=pattern.body)
    body = "\n".join(_body(pattern, symbols, large))
    shapes = "".join(symbols.defs())
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{_POLICY}">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{escaped(pattern.name)}</title>\n<style>\n{style(large=large)}</style>\n"
        "</head>\n<body>\n"
        '<svg width="0" height="0" style="position:absolute" aria-hidden="true">'
        f"<defs>{shapes}</defs></svg>\n{body}\n</body>\n</html>\n"
    )


def _body(pattern: Pattern, symbols: Symbols, large: bool) -> Iterator[str]:
    yield "<header>"
    yield f"<h1>{escaped(pattern.name)}</h1>"
    yield f'<p class="facts">{escaped(facts(pattern))}</p>'
    yield "</header>\n<main>"
    yield from _picture(pattern)
    yield from _beads(pattern, symbols)
    yield from _thread(pattern)
    yield '<h2>Before you begin</h2>\n<ul class="cautions">'
    yield from (f"<li>{escaped(caution)}</li>" for caution in CAUTIONS.splitlines())
    yield "</ul>"
    yield from _drawn_rows(pattern, symbols, large)
    yield from _all_rows(pattern)
    yield "</main>"


# --- the band -------------------------------------------------------------------------------


def _picture(pattern: Pattern) -> Iterator[str]:
    """The band in its real size, or as much of it as a sheet of paper holds."""
    room = WIDTH - 2 * MARGIN - UNIT_ROOM
    fits = int((room - pattern.gauge.start) // pattern.gauge.pitch)
    last = min(pattern.row_count, max(1, fits))
    drawing = Drawing(rows=(1, last), letters=True, words=False, mark="band-")
    # The picture has its own shapes by the same names, so it keeps them to itself.
    drawn = draw_svg(pattern, drawing)
    part = "" if last == pattern.row_count else f" Rows 1 to {last} of {pattern.row_count}."
    yield f'<figure class="band">{drawn}<figcaption>'
    yield (
        f"<small>Real size when it is printed at 100 %: lay a ruler on the scale.{part} Rows are "
        "worked to and fro; the band grows to the right.</small></figcaption></figure>"
    )


def _beads(pattern: Pattern, symbols: Symbols) -> Iterator[str]:
    yield (
        "<h2>Beads</h2>\n<table>\n<thead><tr><th>Letter</th><th>Colour</th><th>Bead</th>"
        f'<th class="n">Count</th><th class="n">With {SPARE:.0%} spare</th>'
        '<th class="n">Grams</th></tr></thead>\n<tbody>'
    )
    for bead in supplies_of(pattern).beads:
        name = symbols.bead(bead.shape, bead.colour, 0.0)
        drawn = f'<svg width="12mm" height="6mm" viewBox="-3 -1.5 6 3"><use href="#{name}"/></svg>'
        yield (
            f'<tr><td class="letter">{bead.colour} {drawn}</td>'
            f"<td>{escaped(pattern.colour(bead.colour).name)}</td>"
            f"<td>{escaped(bead.shape.name)} {bead.shape.kind if bead.shape.kind == 'seed' else ''}"
            f'</td><td class="n">{bead.count}</td><td class="n">{bead.with_spare}</td>'
            f'<td class="n">{bead.grams:.1f}</td></tr>'
        )
    yield "</tbody></table>"
    for note in alike(pattern.colours):
        yield f"<p>Take care: {escaped(note.what)}; {escaped(note.mend)}.</p>"


def _thread(pattern: Pattern) -> Iterator[str]:
    supplies = supplies_of(pattern)
    thread = pattern.thread
    yield "<h2>Thread and needle</h2>"
    yield (
        f"<p>{supplies.thread / 1000:.1f} m of thread, {thread.diameter:.2f} mm thick, cut in "
        f"{_counted(supplies.lengths, 'length')} of {thread.length / 1000:g} m. Leave a tail of "
        f"{number(thread.tail)} mm ({thread.tail / 25.4:.0f} in).</p>"
    )
    joins = [str(row + 1) for row in plan_thread(pattern.thread_before, thread).joins]
    if joins:
        rows = f"row{'' if len(joins) == 1 else 's'} {listed(joins)}"
        yield f"<p>Join a new length at the end of {rows}, or a little earlier.</p>"
    else:
        yield "<p>One length lasts to the end.</p>"
    if supplies.needle is None:
        yield "<p>No needle that we know passes: take a finer thread or larger holes.</p>"
    else:
        yield f"<p>Beading needle of size {supplies.needle.size} or finer.</p>"


def _counted(count: int, what: str) -> str:
    return f"{count} {what}{'' if count == 1 else 's'}"


# --- rows drawn -----------------------------------------------------------------------------


def _drawn_rows(pattern: Pattern, symbols: Symbols, large: bool) -> Iterator[str]:
    yield (
        "<h2>The start, step by step</h2>\n"
        '<p class="lead">New beads have a thick rim. The blue line is the way of the needle, from '
        "the dot to the arrow; holes to go through are ringed and numbered in order. A crossed "
        "tile is full: pass it by. The beads are drawn where they come to lie; they do so when "
        "the second row is pulled tight, not before.</p>"
    )
    for row in range(min(DRAWN_ROWS, pattern.row_count)):
        if row == START_ROWS:
            yield (
                '<h2>The rows that repeat</h2>\n<p class="lead">From here on every row is worked '
                "like one of these two, an up row and a down row in turn; only the colours "
                "change.</p>"
            )
        yield from _drawn_row(pattern, symbols, row, large)


def _drawn_row(pattern: Pattern, symbols: Symbols, row: int, large: bool) -> Iterator[str]:
    found = pattern.row(row)
    hint = find_stitch(pattern.stitch).hint
    steps = len(found.steps)
    across = 2 if large else 3 if steps == 3 else 4
    yield f"<h3>Row {row + 1}, {found.heading}</h3>"
    yield f'<ol class="steps" style="--across:{across}">'
    for step in range(steps):
        left_out = steps - 2 * _AT_EACH_END
        if steps > _MOST_STEPS and _AT_EACH_END <= step < steps - _AT_EACH_END:
            if step == _AT_EACH_END:
                yield (
                    f"<li><strong>{step + 1} to {step + left_out}</strong> are worked alike; "
                    "their colours stand below, in the rows in words.</li>"
                )
            continue
        said = step_sentence(pattern, found, found.steps[step], full=True)
        scene = scene_at(pattern, row, step, back=2)
        drawn = draw_scene(
            scene,
            symbols,
            title=f"Row {row + 1}, step {step + 1}: {said}",
            zoom=3.2 if large else 2.6,
            window=window_of(scene, _TALL),
        )
        aside = hint(row + 1, step + 1, pattern.wide)
        yield (
            f"<li><figure>{drawn}<figcaption><strong>{step + 1}.</strong> {escaped(said)}"
            + (f"<br><small>{escaped(aside)}</small>" if aside else "")
            + "</figcaption></figure></li>"
        )
    yield "</ol>"


# --- rows in words --------------------------------------------------------------------------


def _all_rows(pattern: Pattern) -> Iterator[str]:
    yield '<h2>All rows in words</h2>\n<div class="rows">'
    for part in folded_rows(pattern):
        if isinstance(part, Like):
            yield f'<p class="like">{part.sentence()}.</p>'
        else:
            yield from _written(pattern, pattern.row(part))
    yield "</div>"


def folded_rows(pattern: Pattern) -> Iterator[int | Like]:
    """All rows, from 0; those that are worked in the same words are folded."""
    return fold([row_words(pattern, pattern.row(row)) for row in range(pattern.row_count)])


def row_words(pattern: Pattern, row: Row) -> tuple[str, ...]:
    """A row's heading and its steps in short words: where these agree, rows are alike."""
    return (row.heading, *(step_sentence(pattern, row, step, full=False) for step in row.steps))


def _written(pattern: Pattern, row: Row) -> Iterator[str]:
    heading, *steps = row_words(pattern, row)
    yield f'<div class="row"><h3>Row {row.number}, {heading}</h3>\n<ol>'
    at = 1
    for words, run in groupby(steps):
        count = len(list(run))
        times = f"<strong>{count} times:</strong> " if count > 1 else ""
        yield f'<li value="{at}">{times}{escaped(words)}</li>'
        at += count
    yield "</ol></div>"
