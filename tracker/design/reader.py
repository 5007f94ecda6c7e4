"""From the text of a design file to a `Design`, or to everything that is wrong with it."""

from __future__ import annotations

import os
import re
from collections.abc import Mapping

from tracker.beads.catalogue import findings
from tracker.design.closure_reader import read_closure
from tracker.design.demands import USUAL, Demands
from tracker.design.fields import Fields, named, quoted
from tracker.design.fit_reader import read_fit, read_swatch
from tracker.design.layout_reader import read_layout
from tracker.design.lengths import written
from tracker.design.measures import read_beads
from tracker.design.model import FORMAT, NO_CLOSURE, Closure, Colour, Design, Size, Thread
from tracker.files import parse_toml, read_text
from tracker.problems import Problem, ProblemsError

_KEYS = (
    *("format", "name", "stitch", "size", "fit", "gauge"),
    *("beads", "colours", "layout", "thread", "closure"),
)
LARGEST = 1_000_000
"""No design file is larger, bytes."""
_NO_FORMAT = 10**6  # a number like this is a slip, not a newer format
_LETTER = re.compile(r"[A-Z]")
_HEX = re.compile(r"#[0-9a-fA-F]{6}")


def read_design(path: str | os.PathLike[str], *, stitches: Mapping[str, Demands]) -> Design:
    """The design in the file `path`; `stitches` are those that it may ask for, by name.

    Raises ProblemsError with every problem at once; it names the file as given.
    """
    try:
        return parse_design(read_text(path, LARGEST), stitches=stitches)
    except ProblemsError as error:
        raise error.in_file(os.fspath(path)) from None


def parse_design(text: str, *, stitches: Mapping[str, Demands]) -> Design:
    """The design that `text` says; raises ProblemsError with every problem at once."""
    problems: list[Problem] = []
    top = Fields(parse_toml(text), problems, "")
    _check_format(top)
    name = top.name("name", 'give the design a name, such as name = "Harbour lights"')
    stitch = top.choice("stitch", stitches, f"name the stitch: {named(stitches)}")
    demands = stitches.get(stitch or "", USUAL)
    _check_keys(top, demands)
    wide = _width(top, demands)
    start = _start(top, demands)
    size = _size(top, demands)
    fit = read_fit(top)
    swatch = read_swatch(top)
    beads = read_beads(top, demands)
    colours = _colours(top)
    layout = read_layout(
        top,
        None if wide is None else wide * (2 if demands.across == "columns" else 1),
        None if colours is None else [(c.letter, c.name) for c in colours],
        demands,
    )
    thread = _thread(top)
    letters = [] if colours is None else [colour.letter for colour in colours]
    closure: Closure | None = NO_CLOSURE
    if demands.closures:
        seeds = None if layout is None else layout.seeds
        closure = read_closure(top, wide, size, seeds, letters)
    if beads is not None and thread is not None:
        hole = min(bead.hole for bead in beads.shapes())
        if thread.diameter > hole:
            top.problem(
                "thread.diameter",
                f"{written(thread.diameter)} is thicker than the smallest hole, {written(hole)}",
                "take a finer thread or beads with larger holes",
            )
    if beads is not None and closure not in (None, NO_CLOSURE):
        for bead in beads.shapes():
            if bead.name in findings():
                what = f"{quoted(bead.name)} is the name of a part of closures"
                problems.append(Problem(f"beads.{bead.kind}", what, "name the bead otherwise"))
    if (
        problems
        or name is None
        or stitch is None
        or wide is None
        or start is None
        or size is None
        or beads is None
        or colours is None
        or layout is None
        or thread is None
        or closure is None
    ):
        raise ProblemsError(problems)
    return Design(
        name=name,
        stitch=stitch,
        columns=wide if demands.across == "columns" else 0,
        lanes=wide if demands.across == "lanes" else 0,
        size=size,
        tile=beads.tile,
        seed=beads.seed,
        hinge=beads.hinge,
        cap=beads.cap,
        start=start,
        colours=tuple(colours),
        layout=layout,
        thread=thread,
        closure=closure,
        fit=fit,
        swatch=swatch,
    )


def _check_format(top: Fields) -> None:
    """Note a missing format; raise at once for a newer one, whose keys may mean anything."""
    number = top.values.get("format")
    if isinstance(number, int) and FORMAT < number < _NO_FORMAT:
        what = f"format {number} needs a newer tracker; this one reads format {FORMAT}"
        raise ProblemsError([Problem("format", what, "update the tracker")])
    top.whole("format", FORMAT, FORMAT)


def _check_keys(top: Fields, demands: Demands) -> None:
    """Note keys that no design has, and those that have no place in this stitch."""
    other = "lanes" if demands.across == "columns" else "columns"
    if other in top.values:
        mend = f"write {demands.across} = {demands.usual}, or how many it is to have"
        top.problem(other, f"is not how the width of this stitch is told: {demands.across}", mend)
    if "start" in top.values and not demands.starts:
        top.problem("start", "has no place in this stitch, which begins one way", "leave it out")
    if "closure" in top.values and not demands.closures:
        mend = "leave it out, and finish the ends by hand"
        top.problem("closure", "is not worked out for this stitch", mend)
    top.refuse_unknown((*_KEYS, "columns", "lanes", "start"))


def _width(top: Fields, demands: Demands) -> int | None:
    """The width in columns or lanes, whichever the stitch is told in."""
    key = demands.across
    wide = top.whole(key, demands.least, demands.most, default=demands.usual)
    if wide is None or demands.fits(wide):
        return wide
    below = wide - (wide - demands.least) % demands.every
    what = f"{wide} {key} do not go, the width of this stitch goes by {demands.every}"
    top.problem(key, what, f"write {below} or {below + demands.every}")
    return None


def _start(top: Fields, demands: Demands) -> str | None:
    """How the work is begun; "" in a stitch that knows one way."""
    if not demands.starts or "start" not in top.values:
        return demands.starts[0] if demands.starts else ""
    return top.choice("start", demands.starts, f"name the start: {named(demands.starts)}")


def _told_row_by_row(top: Fields) -> bool:
    """Whether the layout tells every row by itself; a size has no place then, which is noted."""
    layout = top.values.get("layout")
    told = [key for key in ("written", "shape") if isinstance(layout, dict) and key in layout]
    for key in ("size", "fit"):
        if told and key in top.values:
            what = f"has no place here: layout.{told[0]} tells every row"
            top.problem(key, what, "leave it out")
    return bool(told)


def _size(top: Fields, demands: Demands) -> Size | None:
    usual = 160.0
    if _told_row_by_row(top):
        return Size()
    if "fit" in top.values:
        if "size" in top.values:
            top.problem("fit", "goes in place of size, and both are there", "keep one of the two")
        return Size()
    size = top.table("size")
    if size is None:
        return None if "size" in top.values else Size(length=usual)
    size.refuse_unknown(("length", "rows"))
    length = rows = None
    if "length" in size.values:
        length = size.length("length", 10, 10_000, None, usual)
    if "rows" in size.values:
        rows = size.whole("rows", demands.fewest_rows, 5000)
    if {"length", "rows"} <= size.values.keys():
        size.problem("", "has a length and rows", "keep one of the two")
    elif not size.values:
        size.problem("", "is empty", "give it a length or rows, or leave it out")
    elif length is not None or rows is not None:
        return Size(length=length, rows=rows)
    return None


def _colours(top: Fields) -> list[Colour] | None:
    """The colours in the order of the file; None if there are none to hold letters against.

    A colour with a fault of its own still lends its letter, so that no second problem follows.
    """
    table = top.table("colours", 'add [colours] with A = { name = "sand", hex = "#e8dcc0" }')
    if table is None:
        return None
    if not table.values:
        table.problem(
            "", "is empty", 'add a colour, such as A = { name = "sand", hex = "#e8dcc0" }'
        )
        return None
    colours: dict[str, Colour] = {}
    for letter in table.values:
        if not _LETTER.fullmatch(letter):
            hint = letter.upper() if _LETTER.fullmatch(letter.upper()) else "such as A"
            table.problem(letter, "is not one capital letter, A to Z", f"rename it, {hint}")
            continue
        colour = _colour(table, letter)
        for other in colours.values():
            if colour.name and other.name.casefold() == colour.name.casefold():
                what = f"{quoted(colour.name)} is the name of {other.letter} too"
                table.problem(letter, what, "give each colour a name of its own")
        colours[letter] = colour
    return list(colours.values())


def _colour(table: Fields, letter: str) -> Colour:
    fields = table.table(letter, 'write it as { name = "sand", hex = "#e8dcc0" }')
    if fields is None:
        return Colour(letter, "", "")
    fields.refuse_unknown(("name", "hex"))
    name = fields.name("name", "give the colour a name")
    mend = 'write # and six hexadecimal digits, such as "#e8dcc0"'
    code = fields.text("hex", mend)
    if code is not None and not _HEX.fullmatch(code):
        fields.problem("hex", f"{quoted(code)} is no colour code", mend)
    return Colour(letter, name or "", (code or "").lower())


def _thread(top: Fields) -> Thread | None:
    usual = Thread(diameter=0.15, length=1800.0, tail=250.0)
    table = top.table("thread")
    if table is None:
        return None if "thread" in top.values else usual
    table.refuse_unknown(("diameter", "length", "tail"))
    diameter = table.length("diameter", 0.02, 2, usual.diameter, usual.diameter)
    length = table.length("length", 300, 100_000, usual.length, usual.length)
    tail = table.length("tail", 10, 10_000, usual.tail, usual.tail)
    if diameter is None or length is None or tail is None:
        return None
    if tail >= length:
        what = f"{written(tail)} leaves nothing of a thread of {written(length)}"
        table.problem("tail", what, "cut a longer thread or leave a shorter tail")
    return Thread(diameter=diameter, length=length, tail=tail)
