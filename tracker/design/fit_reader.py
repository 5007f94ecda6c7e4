"""The fit and the swatch of a design: tables that may be left out."""

from __future__ import annotations

from tracker.design.fields import Fields
from tracker.design.lengths import written
from tracker.fit.model import EASES, Swatch, Wish, parse_ease

_WRIST = (80.0, 400.0)
"""From a small child's wrist to a stout ankle, mm."""
_MOST_EASE = 100.0
_EASE = "write " + ", ".join(f'"{name}"' for name in EASES) + ' or a length such as "10 mm"'


def read_fit(top: Fields) -> Wish | None:
    """Whom the band is to fit, if the design says so; None also where it has a problem."""
    table = top.table("fit")
    if table is None:
        return None
    table.refuse_unknown(("wrist", "ease", "whole_repeats"))
    wrist = table.length("wrist", *_WRIST, None, 165)
    ease = _ease(table)
    whole = table.flag("whole_repeats")
    if wrist is None or ease is None:
        return None
    return Wish(wrist=wrist, ease=ease, whole_repeats=whole)


def _ease(table: Fields) -> float | None:
    if "ease" not in table.values:
        return EASES["comfortable"]
    text = table.text("ease", _EASE)
    if text is None:
        return None
    try:
        ease = parse_ease(text)
    except ValueError as error:
        table.problem("ease", str(error).partition(": ")[0], _EASE)
        return None
    if ease <= _MOST_EASE:
        return ease
    table.problem("ease", "is out of range", f"write a length up to {written(_MOST_EASE)}")
    return None


def read_swatch(top: Fields) -> Swatch | None:
    """The measured swatch, if the design has one; None also where it has a problem."""
    table = top.table("gauge")
    if table is None:
        return None
    table.refuse_unknown(("rows", "length", "width"))
    rows = table.whole("rows", 4, 5000)
    length = table.length("length", 5, 10_000, None, 50)
    width = table.length("width", 2, 1_000, None, 13) if "width" in table.values else None
    if rows is None or length is None:
        return None
    return Swatch(rows=rows, length=length, width=width)
