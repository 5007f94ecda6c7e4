"""The handout: one page that holds all, to print for a class or to lie on the bead mat.

It is one HTML file that fetches nothing: the drawings are inside, and a policy in its head
forbids the rest.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from tracker.colours.warnings import alike
from tracker.path.model import WOVEN, Row
from tracker.path.words import listed, step_sentence
from tracker.pattern.model import Pattern
from tracker.pattern.supplies import SPARE, supplies_of
from tracker.pattern.thread_plan import plan_thread
from tracker.pictures.folding import Like, fold
from tracker.pictures.page_steps import closing_cautions, drawn_ends, drawn_rows
from tracker.pictures.page_style import WIDTH, style
from tracker.pictures.paper import escaped, number
from tracker.pictures.sheet import MARGIN, UNIT_ROOM, Drawing, facts
from tracker.pictures.svg import draw_svg
from tracker.pictures.symbols import Symbols

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
    cautions = (*closing_cautions(pattern), *CAUTIONS.splitlines())
    yield from (f"<li>{escaped(caution)}</li>" for caution in cautions)
    yield "</ul>"
    yield from drawn_rows(pattern, symbols, large=large)
    yield from drawn_ends(pattern, symbols, large=large)
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
    findings = [_counted(count, name) for name, count in supplies_of(pattern).findings]
    if findings:
        yield f"<p>Findings: {escaped(listed(findings))}.</p>"
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
    section = "" if row.section in WOVEN else f" ({row.section})"
    yield f'<div class="row"><h3>Row {row.number}, {heading}{section}</h3>\n<ol>'
    at = 1
    for words, run in groupby(steps):
        count = len(list(run))
        times = f"<strong>{count} times:</strong> " if count > 1 else ""
        yield f'<li value="{at}">{times}{escaped(words)}</li>'
        at += count
    yield "</ol></div>"
