"""The whole band as a drawing in true geometry and colours (SVG), as long as the band is.

Every bead that looks alike is drawn once and used again, and so is every row: a band of two
kinds of rows stays a small file however long it is. Nothing is fetched from anywhere, and the
same pattern gives the same bytes.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import isfinite

from tracker.pattern.model import Pattern
from tracker.pictures.paper import (
    FACES,
    INK,
    PAPER,
    QUIET,
    WAY,
    arrow_head,
    at,
    escaped,
    line,
    number,
    text_width,
)
from tracker.pictures.scales import length_scales, row_scale
from tracker.pictures.sheet import LEGEND_LINE, MARGIN, TEXT, TITLE, Drawing, Sheet, facts
from tracker.pictures.whole_band import WholeBand
from tracker.problems import Problem, ProblemsError

_DIM = ".28"
_LAYERS = ("finding", "tile", "seed")
"""Seeds lie upon tiles, so all of them come after all tiles; findings hang behind."""


def layers_of(band: WholeBand) -> tuple[str, ...]:
    """The kinds of beads that the band has, lowest first."""
    kinds = {shape.kind for shape in band.shapes.values()}
    return tuple(layer for layer in _LAYERS if layer in kinds)


def draw_svg(pattern: Pattern, drawing: Drawing | None = None) -> str:
    """The picture as one text; ProblemsError if it asks for a row that there is not."""
    return "\n".join(svg_lines(pattern, drawing or Drawing())) + "\n"


def svg_lines(pattern: Pattern, drawing: Drawing) -> Iterator[str]:
    """The picture line by line, for whoever writes a long band without holding it."""
    _check(pattern, drawing)
    first, last = drawing.rows or (1, pattern.row_count)
    band = WholeBand(pattern, first - 1, last - 1)
    sheet = Sheet(pattern, drawing, band)
    yield (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{number(sheet.width * sheet.scale)}mm" '
        f'height="{number(sheet.height * sheet.scale)}mm" viewBox="0 0 {number(sheet.width)} '
        f'{number(sheet.height)}" font-family="{FACES}" role="img">'
    )
    yield f"<title>{escaped(pattern.name)}</title>"
    yield f"<desc>{escaped(facts(pattern))}</desc>"
    yield f'<rect width="100%" height="100%" fill="{PAPER}"/>'
    yield from _defs(band, sheet)
    yield f'<g transform="translate({number(sheet.left)} {number(sheet.middle)})">'
    yield from _rows(band, sheet)
    if drawing.thread:
        yield from _thread(band, drawing.mark)
    yield "</g>"
    if drawing.words:
        yield from _words(pattern, sheet)
    if drawing.scales:
        yield from _scales(band, sheet)
    yield "</svg>"


def _check(pattern: Pattern, drawing: Drawing) -> None:
    first, last = drawing.rows or (1, pattern.row_count)
    asked = [first, last] if drawing.row is None else [first, drawing.row, last]
    if not 1 <= min(asked) <= max(asked) <= pattern.row_count:
        missing = next(row for row in asked if not 1 <= row <= pattern.row_count)
        mend = f"choose one from 1 to {pattern.row_count}"
        raise ProblemsError([Problem("row", f"there is no row {missing}", mend)])
    if sorted(asked) != asked:
        what = f"the rows are not in order: {', '.join(map(str, asked))}"
        raise ProblemsError([Problem("row", what, "the first row comes first, the last one last")])
    if drawing.width is not None and not (isfinite(drawing.width) and drawing.width > 0):
        what, mend = f"{drawing.width:g} mm is no width", "choose one above 0"
        raise ProblemsError([Problem("width", what, mend)])


# --- beads ------------------------------------------------------------------------------------


def _defs(band: WholeBand, sheet: Sheet) -> Iterator[str]:
    """Each kind of bead, and each kind of row as its beads."""
    rows = []
    for i, kind in enumerate(band.kinds, start=1):
        for layer in layers_of(band):
            used = "".join(
                f'<use href="#{sheet.symbols.bead(band.shapes[shape], colour, lies.tilt)}" '
                f'x="{number(lies.x)}" y="{number(-lies.y)}"/>'
                for _, is_a, shape, colour, lies in kind.beads
                if is_a == layer
            )
            rows.append(f'<g id="{sheet.drawing.mark}{layer}s-{i}">{used}</g>')
    yield "<defs>"
    yield from sheet.symbols.defs()
    yield from rows
    yield "</defs>"


def _rows(band: WholeBand, sheet: Sheet) -> Iterator[str]:
    pointed_out = sheet.drawing.row
    others = [i for i in range(len(band.origins)) if pointed_out != band.first + i + 1]
    yield "<g>" if pointed_out is None else f'<g opacity="{_DIM}">'
    for layer in layers_of(band):
        for i in others:
            yield _row(band, sheet, layer, i)
    yield "</g>"
    if pointed_out is not None:
        i = pointed_out - 1 - band.first
        for layer in layers_of(band):
            yield _row(band, sheet, layer, i)
        yield from _pointer(band, sheet, i)


def _row(band: WholeBand, sheet: Sheet, layer: str, i: int) -> str:
    name = f"{sheet.drawing.mark}{layer}s-{band.kind_of[i] + 1}"
    return f'<use href="#{name}" x="{number(band.origins[i])}"/>'


def _pointer(band: WholeBand, sheet: Sheet, i: int) -> Iterator[str]:
    """Which row it is, and an arrow where the needle leaves it."""
    row, x = band.pattern.row(band.first + i), band.origins[i]
    _, _, low, high = band.extent
    start, end = (low, high + 0.8) if row.heading == "up" else (high, low - 0.8)
    arrow = " ".join(at(point) for point in arrow_head((x, start), (x, end), 1.4))
    yield f'<polygon points="{arrow}" fill="{WAY}"/>'
    text = f"row {row.number}, {row.heading}"
    half = text_width(text, TEXT) / 2 + 1.0
    middle = min(max(sheet.left + x, half), sheet.width - half) - sheet.left
    yield (
        f'<text x="{number(middle)}" y="{number(-high - 2.4)}" font-size="{TEXT}" '
        f'font-weight="700" text-anchor="middle" fill="{WAY}">{text}</text>'
    )


# --- thread -----------------------------------------------------------------------------------


def _thread(band: WholeBand, mark: str) -> Iterator[str]:
    """The thread, light round dark so that it is seen on any bead."""
    known: dict[str, int] = {}
    yield f'<defs><g id="{mark}thread" fill="none" stroke-linejoin="round">'
    tail = end = ((0.0, 0.0), (0.0, 0.0))
    for i, (x, points) in enumerate(zip(band.origins, band.thread(), strict=True)):
        d = line(((px - x, y) for px, y in points), band.pattern.around)
        if d in known:
            yield f'<use href="#{mark}way-{known[d]}" x="{number(x)}"/>'
        else:
            known[d] = i + 1
            way = f'<path id="{mark}way-{i + 1}" d="{d}"/>'
            yield f'<g transform="translate({number(x)})">{way}</g>'
        tail = tail if i else (points[0], points[1])
        end = (points[-2], points[-1])
    yield "</g></defs>"
    yield f'<use href="#{mark}thread" stroke="{PAPER}" stroke-width=".4"/>'
    yield f'<use href="#{mark}thread" stroke="{INK}" stroke-width=".16"/>'
    yield (
        f'<circle cx="{number(tail[0][0])}" cy="{number(-tail[0][1])}" r=".42" fill="{PAPER}" '
        f'stroke="{INK}" stroke-width=".16"/>'
    )
    arrow = " ".join(at(point) for point in arrow_head(end[0], end[1], 1.1))
    yield f'<polygon points="{arrow}" fill="{INK}" stroke="{PAPER}" stroke-width=".12"/>'


# --- round the band ---------------------------------------------------------------------------


def _words(pattern: Pattern, sheet: Sheet) -> Iterator[str]:
    y = MARGIN + TITLE * 0.8
    yield (
        f'<text x="{MARGIN}" y="{number(y)}" font-size="{TITLE}" font-weight="700" '
        f'fill="{INK}">{escaped(pattern.name)}</text>'
    )
    yield (
        f'<text x="{MARGIN}" y="{number(y + TEXT * 1.5)}" font-size="{TEXT}" '
        f'fill="{QUIET}">{escaped(facts(pattern))}</text>'
    )
    for i, (bead, text) in enumerate(sheet.legend):
        x = MARGIN + i % sheet.in_line * sheet.apart
        y = sheet.legend_top + LEGEND_LINE * (i // sheet.in_line + 0.5)
        yield (
            f'<use href="#{bead}" x="{number(x + 2.6)}" y="{number(y)}"/>'
            f'<text x="{number(x + 7)}" y="{number(y + TEXT * 0.35)}" font-size="{TEXT}" '
            f'fill="{INK}">{escaped(text)}</text>'
        )


def _scales(band: WholeBand, sheet: Sheet) -> Iterator[str]:
    left, right, _, _ = band.extent
    if sheet.drawing.row is None:
        places = [sheet.left + x for x in band.origins]
        yield from row_scale(places, band.first + 1, sheet.top - 0.8, sheet.edge)
    yield from length_scales(sheet.edge, sheet.bottom, right - left)
    size = "real size: print at 100 %"
    if sheet.drawing.width is not None:
        size = f"{sheet.scale:.2f} of real size"
    yield (
        f'<text x="{number(sheet.width - MARGIN)}" y="{number(sheet.height - 1.4)}" '
        f'font-size="2.2" text-anchor="end" fill="{QUIET}">{size}</text>'
    )
