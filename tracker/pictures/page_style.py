"""How the handout looks, on paper and on a screen. Light ground, dark ink, no colour alone.

The sizes of A4 and US Letter differ: margins of 12 mm leave 186 mm of width and 255 mm of height
on both, and no page size is asked for.
"""

from __future__ import annotations

from tracker.pictures.paper import INK, PAPER, QUIET

WIDTH = 185.0
"""Of the printed text, mm."""

_STYLE = """\
@page { margin: 12mm }
* { box-sizing: border-box }
html { font-size: %(size)s }
body { margin: 0 auto; padding: 0; max-width: %(width)gmm; background: %(paper)s;
  color: %(ink)s; font-family: Helvetica, Arial, "DejaVu Sans", sans-serif; line-height: 1.45 }
@media screen { body { padding: 8mm 2mm } }
h1 { font-size: 1.9rem; line-height: 1.15; margin: 0 0 .2rem }
h2 { font-size: 1.25rem; margin: 1.6rem 0 .5rem; padding-bottom: .15rem;
  border-bottom: 1px solid %(quiet)s; break-after: avoid }
h3 { font-size: 1rem; margin: 1rem 0 .4rem; break-after: avoid }
p { margin: .3rem 0 }
.lead { break-after: avoid; break-inside: avoid }
.facts, .hint, figcaption small { color: %(quiet)s }
svg { max-width: 100%%; height: auto }
table { border-collapse: collapse; width: 100%% }
th, td { text-align: left; padding: .25rem .6rem .25rem 0; border-bottom: 1px solid #d5d9de;
  vertical-align: middle }
th { font-weight: 700 }
.letter { white-space: nowrap }
.letter svg { vertical-align: middle }
.n { text-align: right; font-variant-numeric: tabular-nums }
.steps { list-style: none; margin: 0; padding: 0; display: grid; gap: 5mm;
  grid-template-columns: repeat(var(--across), minmax(0, 1fr)) }
.steps li { break-inside: avoid; border: 1px solid #d5d9de; border-radius: 2mm; padding: 3mm }
figure { margin: 0 }
.steps svg { display: block; margin: 0 auto 2mm }
.rows { %(columns)s }
.row { break-inside: avoid; margin: 0 0 .6rem }
.row h3 { margin: 0 }
.row ol { margin: .1rem 0 0; padding-left: 1.6em }
.like { break-inside: avoid; font-weight: 700; margin: 0 0 .6rem }
.cautions li { margin: .2rem 0 }
.band { overflow-x: auto }
.band svg { display: block }
"""


def style(*, large: bool) -> str:
    """The style sheet; large print is 18 points and sets less side by side."""
    return _STYLE % {
        "size": "18pt" if large else "10.5pt",
        "width": WIDTH,
        "paper": PAPER,
        "ink": INK,
        "quiet": QUIET,
        "columns": "" if large else "columns: 2; column-gap: 8mm",
    }
