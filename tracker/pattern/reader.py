"""A pattern file read and checked, without decoding its rows one by one."""

from __future__ import annotations

import os
import re
from typing import TYPE_CHECKING, cast

from tracker.beads.model import Finding, Seed, Shape, Tile
from tracker.design.closure_reader import FEWEST_ROWS as FEWEST_CLOSED_ROWS
from tracker.design.closure_reader import MOST_COLUMNS, USUAL_LENGTH
from tracker.design.fields import Fields
from tracker.design.model import NO_CLOSURE, Closure, ClosureKind, Colour, Thread
from tracker.files import parse_toml, read_text
from tracker.path.band import Outline
from tracker.path.gauge import Gauge
from tracker.pattern.model import Pattern, Section
from tracker.pattern.notation import (
    FIRST,
    LINE,
    PICKED_UP,
    PLACES,
    PLACES_LINE,
    REFERENCES,
    ROW,
    figures_of,
)
from tracker.pattern.seal import FORMAT, seal_of
from tracker.problems import Problem, ProblemsError

if TYPE_CHECKING:  # few bands are made to fit
    from tracker.fit.model import Fit

LARGEST = 64_000_000
"""No pattern file is larger, bytes: 40 columns by 5,000 rows take about 8 MB."""

_AGAIN = "compile its design again, or ask for a fresh copy"
_SEAL = re.compile(r'(?:#[^\n]*\n)*format = \d+\nseal = "(sha256:[0-9a-f]{64})"\n')
_DIGEST = re.compile(r"sha256:[0-9a-f]{64}")
_HEX = re.compile(r"#[0-9a-f]{6}")
_OUTLINE = re.compile(r"\d{1,4}\+\d{1,4}(?: \d{1,4}\+\d{1,4})*", re.ASCII)
_LONGEST = 100_000.0
FEWEST_ROWS, _MOST_ROWS = 2, 10_000
_NO_FORMAT = 10**6  # a number like this is damage, not a newer format


def read_pattern(path: str | os.PathLike[str]) -> Pattern:
    """The pattern in the file `path`; raises ProblemsError that names the file as given."""
    try:
        return parse_pattern(read_text(path, LARGEST))
    except ProblemsError as error:
        raise error.in_file(os.fspath(path)) from None


def parse_pattern(text: str) -> Pattern:
    """The pattern that `text` says; raises ProblemsError with every problem found."""
    values = parse_toml(text)
    problems: list[Problem] = []
    top = Fields(values, problems, "")
    _check_format(top)
    sealed = _SEAL.match(text)
    if sealed is None or sealed[1] != seal_of(text[sealed.end() :]):
        what = "the pattern was changed or damaged after it was proved"
        raise ProblemsError([Problem("seal", what, _AGAIN)])
    pattern = _pattern(top, sealed[1])
    if not problems:
        problems += _row_problems(pattern)
    if problems:
        raise ProblemsError(problems)
    return pattern


def _check_format(top: Fields) -> None:
    found = top.values.get("format")
    if isinstance(found, int) and FORMAT < found < _NO_FORMAT:
        what = f"format {found} needs a newer tracker; this one reads format {FORMAT}"
        raise ProblemsError([Problem("format", what, "update the tracker")])
    if found != FORMAT or "sections" not in top.values:
        what = f"this is no pattern of format {FORMAT}"
        raise ProblemsError([Problem("format", what, "name a file that `tracker compile` made")])


def _pattern(top: Fields, digest: str) -> Pattern:
    """The tables as a pattern. A value with a problem leaves a default in its place."""
    top.refuse_unknown(
        [
            *("format", "seal", "name", "stitch", "design", "target"),
            *("columns", "lanes", "hinge", "cap", "start", "outline", "around", "written"),
            *("gauge", "fit", "thread", "closure", "colours", "shapes", "places", "sections"),
        ]
    )
    target = top.length("target", 0.001, _LONGEST, None, 160) if "target" in top.values else None
    places = _table(top, "places")
    written = _table(top, "written") if "written" in top.values else None
    return Pattern(
        name=top.name("name", _AGAIN) or "",
        stitch=top.name("stitch", _AGAIN) or "",
        columns=_whole(top, "columns", 0),
        lanes=_whole(top, "lanes", 0),
        hinge=_whole(top, "hinge", Pattern.hinge),
        cap=_whole(top, "cap", Pattern.cap),
        start=(top.name("start", _AGAIN) or "") if "start" in top.values else "",
        outline=_outline(top),
        written=tuple((written.text("lines", _AGAIN) or "").splitlines()) if written else (),
        around=_length(top, "around") if "around" in top.values else 0.0,
        design=_matching(top, "design", _DIGEST),
        target=target,
        colours=_colours(_table(top, "colours")),
        shapes=_shapes(_table(top, "shapes")),
        gauge=_gauge(_table(top, "gauge")),
        fit=_fit(_table(top, "fit")) if "fit" in top.values else None,
        thread=_thread(_table(top, "thread")),
        places=tuple((places.text("lines", _AGAIN) or "").splitlines()),
        sections=_sections(top),
        closure=_closure(top),
        digest=digest,
    )


def _whole(top: Fields, key: str, usual: int) -> int:
    """A number that is left out where it is the usual one."""
    return (top.whole(key, 1, 1000) or 0) if key in top.values else usual


def _outline(top: Fields) -> Outline:
    if "outline" not in top.values:
        return ()
    text = _matching(top, "outline", _OUTLINE)
    rows = (part.split("+") for part in text.split())
    return tuple((int(first), int(beads)) for first, beads in rows)


def _table(top: Fields, key: str) -> Fields:
    return top.table(key, _AGAIN) or Fields({}, [], key)


def _matching(fields: Fields, key: str, form: re.Pattern[str]) -> str:
    text = fields.text(key, _AGAIN)
    if text is not None and not form.fullmatch(text):
        fields.problem(key, "is not in its form", _AGAIN)
        return ""
    return text or ""


def _length(fields: Fields, key: str) -> float:
    return fields.length(key, 0.001, _LONGEST, None, 1) or 0.0


def _share(fields: Fields, key: str) -> float:
    value = fields.values.get(key)
    if isinstance(value, float) and 0 <= value <= 1:
        return value
    fields.problem(key, "should be a share from 0.0 to 1.0", _AGAIN)
    return 0.0


def _gauge(table: Fields) -> Gauge:
    return Gauge(
        start=_length(table, "start") if "start" in table.values else 0.0,
        pitch=_length(table, "pitch"),
        width=_length(table, "width"),
        pitch_spread=_share(table, "pitch_spread"),
        start_spread=_length(table, "start_spread"),
        width_spread=_share(table, "width_spread"),
    )


def _fit(table: Fields) -> Fit:
    from tracker.fit.model import Fit  # noqa: PLC0415  few patterns have one

    closure = "closure_length"
    return Fit(
        wrist=_length(table, "wrist"),
        ease=_length(table, "ease"),
        thickness=_length(table, "thickness"),
        closure_length=_length(table, closure) if closure in table.values else 0.0,
        repeat_rows=table.whole("repeat_rows", 1, _MOST_ROWS, default=1) or 1,
    )


def _thread(table: Fields) -> Thread:
    return Thread(
        diameter=_length(table, "diameter"),
        length=_length(table, "length"),
        tail=_length(table, "tail"),
    )


def _closure(top: Fields) -> Closure:
    """The closure; a pattern without one says nothing of it."""
    if "closure" not in top.values:
        return NO_CLOSURE
    table = _table(top, "closure")
    table.refuse_unknown(("kind", "length", "rings", "colour"))
    kinds = [kind for kind in USUAL_LENGTH if kind != NO_CLOSURE.kind]
    return Closure(
        kind=cast(ClosureKind, table.choice("kind", kinds, _AGAIN)),
        length=_length(table, "length"),
        rings=table.whole("rings", 0, 1000) or 0,
        colour=_matching(table, "colour", re.compile("[A-Z]")),
    )


def _colours(table: Fields) -> tuple[Colour, ...]:
    colours = []
    for letter in table.values:
        if not re.fullmatch("[A-Z]", letter):
            table.problem(letter, "is not one capital letter", _AGAIN)
            continue
        colour = _table(table, letter)
        name = colour.name("name", _AGAIN) or ""
        colours.append(Colour(letter, name, _matching(colour, "hex", _HEX)))
    return tuple(colours)


def _shapes(table: Fields) -> dict[str, Shape]:
    shapes: dict[str, Shape] = {}
    for letter in table.values:
        if not re.fullmatch("[a-z]", letter):
            table.problem(letter, "is not one small letter", _AGAIN)
            continue
        shape = _table(table, letter)
        kind = shape.choice("kind", ("seed", "tile", "finding"), _AGAIN)
        name = shape.name("name", _AGAIN) or ""
        if kind == "tile":
            tile = shapes[letter] = Tile(
                name=name,
                length=_length(shape, "length"),
                passage=_length(shape, "passage"),
                thickness=_length(shape, "thickness"),
                hole=_length(shape, "hole"),
                hole_spacing=_length(shape, "hole_spacing"),
            )
            if not tile.hole < tile.hole_spacing < tile.length:
                shape.problem("", "has holes that it cannot have", _AGAIN)
        elif kind == "finding":
            two = "hole_spacing" in shape.values
            shapes[letter] = Finding(
                name=name,
                diameter=_length(shape, "diameter"),
                length=_length(shape, "length"),
                hole=_length(shape, "hole"),
                hole_spacing=_length(shape, "hole_spacing") if two else 0.0,
            )
        else:
            shapes[letter] = Seed(
                name=name,
                diameter=_length(shape, "diameter"),
                length=_length(shape, "length"),
                hole=_length(shape, "hole"),
            )
    kinds = sorted(shape.kind for shape in shapes.values() if shape.kind != "finding")
    if not kinds or len(set(kinds)) < len(kinds):
        table.problem("", "should hold a tile, a seed or both", _AGAIN)
    if len({shape.name for shape in shapes.values()}) < len(shapes):
        table.problem("", "has one name for two shapes", _AGAIN)
    return shapes


def _sections(top: Fields) -> tuple[Section, ...]:
    found = top.values.get("sections")
    if not isinstance(found, list) or not all(isinstance(value, dict) for value in found):
        top.problem("sections", "should be tables, each with a name and rows", _AGAIN)
        return ()
    sections = []
    for number, value in enumerate(found, start=1):
        fields = Fields(value, top.problems, f"sections[{number}]")
        fields.refuse_unknown(("name", "rows"))
        name = fields.name("name", _AGAIN) or ""
        sections.append(Section(name, tuple((fields.text("rows", _AGAIN) or "").splitlines())))
    return tuple(sections)


def _row_problems(pattern: Pattern) -> list[Problem]:
    """What the lines say that no row may; the first of the rows."""
    problems = []
    if bool(pattern.columns) == bool(pattern.lanes):
        return [Problem("columns", "should be there, or lanes, one of the two", _AGAIN)]
    fewest = 1 if pattern.written else FEWEST_ROWS
    if not fewest <= pattern.woven_rows <= pattern.row_count <= _MOST_ROWS:
        what = f"there are {pattern.row_count} rows, from {fewest} to {_MOST_ROWS} go"
        return [Problem("sections", what, _AGAIN)]
    closure = pattern.closure
    if closure != NO_CLOSURE and not (
        pattern.woven_rows >= FEWEST_CLOSED_ROWS
        and 2 <= pattern.columns <= MOST_COLUMNS
        and (1 <= closure.rings <= pattern.columns) == (closure.kind == "bead loops")
    ):
        return [Problem("closure", "does not go with this band", _AGAIN)]
    for number, line in enumerate(pattern.places, start=1):
        if not PLACES.fullmatch(line):
            problems.append(Problem(f"places line {number}", "is no line of places", _AGAIN))
    if not problems:
        problem = _first_broken_row(pattern)
        problems += [problem] if problem else []
    if pattern.outline and not problems:
        drawn = [beads for _, beads in pattern.outline]
        if drawn != [counts.total() for counts in pattern.picked_up[: pattern.woven_rows]]:
            problems.append(Problem("outline", "is not that of the rows", _AGAIN))
    return problems


def _ends_under(step: str) -> bool:
    """Whether the needle goes under a thread in a step and through nothing behind it."""
    _, under, behind = step.rpartition("~")
    return bool(under) and all(move[0] == "!" for move in behind.split(" ")[1:])


def _first_broken_row(pattern: Pattern) -> Problem | None:
    # One is enough: after a wrong number of beads every later row would be told off as well.
    kinds = {shape + colour.letter for shape in pattern.shapes for colour in pattern.colours}
    beads_in = [0, *(line.count(",") + 1 for line in pattern.places)]
    next_bead = 0
    # Most rows differ in their numbers alone: each form is looked into once.
    forms: dict[str, tuple[int, bool, bool]] = {}
    rows = zip(pattern.lines, pattern.forms, figures_of(pattern.lines), strict=True)
    for number, (line, form, figures) in enumerate(rows, start=1):
        if form not in forms:
            if not LINE.fullmatch(line):
                return Problem(f"row {number}", "is no row of moves", _AGAIN)
            picked_up = PICKED_UP.findall(line)
            steps = line.partition(": ")[2].split(" | ")
            known = kinds.issuperset(picked_up)
            forms[form] = (len(picked_up), known, any(map(_ends_under, steps)))
        beads, known, ends_under = forms[form]
        numbers = list(map(int, figures.split()))
        places = numbers[PLACES_LINE]
        what = ""
        if numbers[ROW] != number or numbers[FIRST] != next_bead:
            what = "its number or its first bead does not follow from the row before"
        elif not known:
            what = "it picks up a shape or a colour that the pattern does not have"
        elif places >= len(beads_in) or beads_in[places] != beads:
            what = "its beads and its line of places do not agree"
        elif ends_under:
            what = "it goes under a thread and nowhere from there"
        next_bead += beads
        if not what and max(numbers[REFERENCES:], default=0) >= next_bead:
            what = "it goes through a bead that is not there yet"
        if what:
            return Problem(f"row {number}", what, _AGAIN)
    return None
