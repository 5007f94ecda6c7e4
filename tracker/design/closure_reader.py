"""The closure of a design: its kind, its own length, and what its loops are made of."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from types import MappingProxyType
from typing import cast

from tracker.design.fields import Fields, named, quoted
from tracker.design.model import NO_CLOSURE, Closure, ClosureKind, Size

USUAL_LENGTH: Mapping[str, float] = MappingProxyType(
    {
        "none": 0.0,
        "wire guards": 25.0,
        "bead loops": 15.0,
        "ribbon ends": 25.0,
        "button loop": 8.0,
    }
)
"""What a closure of each kind adds on the wrist, mm: loops, findings and a small clasp together
(common practice; a clasp is better measured)."""
MOST_COLUMNS = 12
"""The widest band that a closure is worked out for."""
FEWEST_ROWS = 4
"""The shortest: each end is anchored in three rows of its own, and the two must not be the same."""
_KEYS = ("kind", "length", "rings", "colour")


def read_closure(
    top: Fields, columns: int | None, size: Size | None, seeds: str | None, letters: Collection[str]
) -> Closure | None:
    """The closure, held against the band; `seeds` is the seeds' colour, `letters` are all."""
    table = top.table("closure")
    if table is None:
        return None if "closure" in top.values else NO_CLOSURE
    table.refuse_unknown(_KEYS)
    before = len(table.problems)
    kind = table.choice("kind", USUAL_LENGTH, f"name the kind: {named(USUAL_LENGTH)}")
    if kind is None:
        return None
    if kind == "none":
        for key in table.values:
            if key in _KEYS[1:]:
                table.problem(key, "goes with a closure, and this is none", "leave it out")
        return NO_CLOSURE if len(table.problems) == before else None
    length = table.length("length", 1, 200, USUAL_LENGTH[kind], USUAL_LENGTH[kind])
    rings = _rings(table, kind, columns)
    colour = _colour(table, seeds, letters)
    if columns is not None and columns > MOST_COLUMNS:
        what = f"a closure goes with 2 to {MOST_COLUMNS} columns, this band has {columns}"
        table.problem("kind", what, 'weave a narrower band, or write kind = "none"')
    if size is not None and size.rows is not None and size.rows < FEWEST_ROWS:
        what = f"a closure goes with {FEWEST_ROWS} rows or more, this band has {size.rows}"
        table.problem("kind", what, 'weave more rows, or write kind = "none"')
    if length is None or rings is None or colour is None or len(table.problems) > before:
        return None
    return Closure(kind=cast(ClosureKind, kind), length=length, rings=rings, colour=colour)


def _rings(table: Fields, kind: str, columns: int | None) -> int | None:
    """The rings of a bar clasp: no more than there are columns, for each loop hangs on its own."""
    if kind == "bead loops":
        most = min(columns or MOST_COLUMNS, MOST_COLUMNS)
        return table.whole("rings", 1, most, default=min(3, most))
    if "rings" in table.values:
        what = f"goes with bead loops, not with {kind}"
        table.problem("rings", what, "leave it out")
    return 0


def _colour(table: Fields, seeds: str | None, letters: Collection[str]) -> str | None:
    if "colour" not in table.values:
        return seeds
    mend = f"use the letter of a colour: {named(letters)}"
    text = table.text("colour", mend)
    if text is not None and letters and text not in letters:
        table.problem("colour", f"{quoted(text)} is no colour's letter", mend)
        return None
    return text
