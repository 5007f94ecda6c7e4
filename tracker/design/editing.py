"""A design while it is being edited: plain texts, from a file's text and back into it.

A draft may hold what is no good yet, as it was typed; what it says is judged by the reader of
designs alone. Writing changes the keys that differ and leaves everything else of the file, its
comments and its spelling, as it was.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any, Literal, cast

import tomlkit
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import InlineTable, Table

from tracker.design.closure_reader import USUAL_LENGTH
from tracker.design.demands import Across, Demands
from tracker.design.model import FORMAT, Design, Kind
from tracker.design.reader import parse_design
from tracker.files import parse_toml
from tracker.problems import Problem, ProblemsError
from tracker.records import record

SizeBy = Literal["fit", "length", "rows"]
KINDS: tuple[Kind, ...] = ("lanes", "rows", "chart", "shape", "written")

CLOSURES = tuple(USUAL_LENGTH)
"""The kinds of closure that a design may name, "none" first."""

_NO_CLOSURE = "none"
_MOST_DIGITS = 9
ROW_BY_ROW = ("shape", "written")
"""The layouts that tell every row, and so width and size as well."""
_DRAWN = ("chart", *ROW_BY_ROW)
"""The layouts that have a text of several lines."""


@record
class DraftColour:
    """A colour as it was typed."""

    letter: str
    name: str
    hex: str


@record(kw_only=True)
class Draft:
    """A design as it was typed. The defaults are those of the reader."""

    name: str = ""
    stitch: str = ""
    wide: str = "2"
    """The width in columns or lanes, as `across` says."""
    across: Across = "columns"
    size_by: SizeBy = "length"
    size: str = "160 mm"
    """The wrist, the length or the rows, as `size_by` says."""
    ease: str = "comfortable"
    whole_repeats: bool = False
    """This and the ease go with a wrist only."""
    tile: str = ""
    """A name, or measures as a table of TOML in one line; so is the seed. "" for none."""
    seed: str = ""
    colours: tuple[DraftColour, ...] = ()
    seeds: str = ""
    layout: Kind = "lanes"
    lines: tuple[str, ...] = ("",)
    """The one text of lanes or rows, or the lines of a chart or a shape."""
    mirror: bool = False
    centre: bool = False
    diameter: str = "0.15 mm"
    thread: str = "1.8 m"
    tail: str = "250 mm"
    closure: str = _NO_CLOSURE
    start: str = ""
    """How the work is begun; "" for the usual way."""


NEW = Draft(
    name="New band",
    stitch="two-hole herringbone",
    size_by="fit",
    size="165 mm",
    tile="half tile",
    seed="15/0",
    colours=(
        DraftColour("A", "blue", "#2f6690"),
        DraftColour("B", "cream", "#efe3c8"),
        DraftColour("S", "grey", "#8b9199"),
    ),
    seeds="S",
    lines=("ABBA",),
)
"""What a new band begins with: it can be woven as it is."""


@record
class Checked:
    """A draft's file, and what its reader says to it: a design, or what is wrong."""

    text: str
    design: Design | None
    problems: tuple[Problem, ...]


def checked(draft: Draft, old_text: str, *, stitches: Mapping[str, Demands]) -> Checked:
    """The draft written into its old file (or "") and read again. Raises nothing."""
    letters = [colour.letter for colour in draft.colours]
    twice = sorted({letter for letter in letters if letters.count(letter) > 1})
    if twice:
        # A file cannot even say this.
        what, mend = "is the letter of two colours", "give each a letter of its own"
        return Checked(
            "", None, tuple(Problem(f"colours.{letter}", what, mend) for letter in twice)
        )
    text = ""
    try:
        text = written(draft, old_text)
        return Checked(text, parse_design(text, stitches=stitches), ())
    except ProblemsError as error:
        return Checked(text, None, error.problems)


# --- from a file ---------------------------------------------------------------------------------


def draft_of(text: str) -> Draft:
    """The draft that a design's text says, whatever is wrong with its values.

    Raises ProblemsError if it is no TOML.
    """
    top = parse_toml(text)
    size, fit, beads, layout, thread, closure = (
        _table(top, key) for key in ("size", "fit", "beads", "layout", "thread", "closure")
    )
    usual = Draft()
    size_by: SizeBy = "fit" if "fit" in top else "rows" if "rows" in size else "length"
    said = {"fit": fit.get("wrist", ""), "rows": size.get("rows"), "length": size.get("length")}
    kind = next((kind for kind in KINDS if kind in layout), usual.layout)
    lines = _text(layout.get(kind, ""))
    across: Across = "lanes" if "lanes" in top else "columns"
    return Draft(
        name=_text(top.get("name", usual.name)),
        stitch=_text(top.get("stitch", usual.stitch)),
        wide=_text(top.get(across, usual.wide)),
        across=across,
        size_by=size_by,
        size=usual.size if said[size_by] is None else _text(said[size_by]),
        ease=_text(fit.get("ease", usual.ease)),
        whole_repeats=fit.get("whole_repeats") is True,
        tile=_text(beads.get("tile", "")),
        seed=_text(beads.get("seed", "")),
        colours=tuple(_colours(_table(top, "colours"))),
        seeds=_text(layout.get("seeds", "")),
        layout=kind,
        lines=_lines(kind, lines),
        mirror=layout.get("mirror") is True,
        centre=layout.get("centre") is True,
        diameter=_text(thread.get("diameter", usual.diameter)),
        thread=_text(thread.get("length", usual.thread)),
        tail=_text(thread.get("tail", usual.tail)),
        closure=_text(closure.get("kind", usual.closure)),
        start=_text(top.get("start", usual.start)),
    )


def _table(top: dict[str, object], key: str) -> dict[str, object]:
    value = top.get(key)
    return cast("dict[str, object]", value) if isinstance(value, dict) else {}


def _colours(table: dict[str, object]) -> Iterator[DraftColour]:
    for letter in table:
        own = _table(table, letter)
        yield DraftColour(letter, _text(own.get("name", "")), _text(own.get("hex", "")))


def _lines(kind: Kind, text: str) -> tuple[str, ...]:
    if kind in ROW_BY_ROW:
        # Where a line begins is a part of what it says.
        return tuple(line.rstrip() for line in text.split("\n") if line.strip())
    return _ranks(text) if kind == "chart" else (text,)


def _ranks(text: str) -> tuple[str, ...]:
    return tuple(line.strip() for line in text.split("\n") if line.strip())


def _text(value: object) -> str:
    """A value as it is typed."""
    return value if isinstance(value, str) else _spelt(value)


def _spelt(value: object) -> str:
    """A value as TOML in one line."""
    if isinstance(value, dict):
        said = (f"{tomlkit.key(key).as_string()} = {_spelt(own)}" for key, own in value.items())
        return f"{{ {', '.join(said)} }}"
    return tomlkit.item(value).as_string()


# --- into a file ---------------------------------------------------------------------------------


def written(draft: Draft, old_text: str = "") -> str:
    """The draft as the text of a file, in the old one's place if there is one.

    Two colours of one letter are for the caller to refuse. Raises ProblemsError if the old text is
    no TOML.
    """
    said = _normal(draft)
    if old_text.strip():
        text = _changed(said, old_text.removeprefix("\ufeff"))
        if draft_of(text) == said:
            return text
        # A spelling of tables that cannot be changed in place: what is said matters more.
    return _changed(said, _outline(said))


def _normal(draft: Draft) -> Draft:
    """The draft without what its file does not say."""
    usual = Draft()
    if draft.layout in ROW_BY_ROW:
        # Its width and its rows are those that are drawn.
        draft = replace(draft, wide=usual.wide, across=usual.across)
        draft = replace(draft, size_by=usual.size_by, size=usual.size)
    if draft.size_by != "fit":
        draft = replace(draft, ease=usual.ease, whole_repeats=False)
    tile, seed = (_text(_measures(text)) for text in (draft.tile, draft.seed))
    draft = replace(draft, tile=tile, seed=seed)
    if draft.layout in _DRAWN:
        return replace(draft, lines=_lines(draft.layout, "\n".join(draft.lines)))
    return replace(draft, lines=("".join(draft.lines),))


def _changed(draft: Draft, text: str) -> str:
    parse_toml(text)
    try:
        document = tomlkit.parse(text)
        _put(document, ("format",), FORMAT)
        _put(document, ("name",), draft.name)
        _put(document, ("stitch",), draft.stitch)
        _put_width(document, draft)
        _put_or_drop(document, ("start",), draft.start)
        _put_size(document, draft)
        _put_or_drop(document, ("beads", "tile"), _measures(draft.tile))
        _put_or_drop(document, ("beads", "seed"), _measures(draft.seed))
        _put_colours(document, draft.colours)
        _put_layout(document, draft)
        for key, value, usual in (
            ("diameter", draft.diameter, Draft().diameter),
            ("length", draft.thread, Draft().thread),
            ("tail", draft.tail, Draft().tail),
        ):
            _put(document, ("thread", key), value, usual)
        if draft.closure != _NO_CLOSURE:
            _put(document, ("closure", "kind"), draft.closure)
        elif draft_of(text).closure != _NO_CLOSURE:
            document.pop("closure")
        return tomlkit.dumps(document)
    except TOMLKitError as error:
        mend = "mend it in an editor"
        raise ProblemsError([Problem("file", f"cannot be read as TOML: {error}", mend)]) from None


def _put_width(document: Any, draft: Draft) -> None:
    if draft.layout in ROW_BY_ROW:
        document.pop("columns", None)
        document.pop("lanes", None)
        return
    usual = 2 if draft.across == "columns" else None
    _put(document, (draft.across,), _number(draft.wide), usual)
    document.pop("lanes" if draft.across == "columns" else "columns", None)


def _put_size(document: Any, draft: Draft) -> None:
    if draft.layout in ROW_BY_ROW:
        document.pop("size", None)
        document.pop("fit", None)
        return
    if draft.size_by == "fit":
        document.pop("size", None)
        _put(document, ("fit", "wrist"), draft.size)
        _put(document, ("fit", "ease"), draft.ease, Draft().ease)
        _put(document, ("fit", "whole_repeats"), draft.whole_repeats, False)
        return
    document.pop("fit", None)
    if draft.size_by == "rows":
        _put(document, ("size", "rows"), _number(draft.size))
        _drop(document, "size", "length")
        return
    rows_there = "rows" in document.get("size", {})
    _put(document, ("size", "length"), draft.size, None if rows_there else Draft().size)
    _drop(document, "size", "rows")


def _put_layout(document: Any, draft: Draft) -> None:
    if not isinstance(document.get("layout"), dict):
        document["layout"] = tomlkit.table()
    _put_or_drop(document, ("layout", "seeds"), draft.seeds)
    kind = draft.layout
    if kind in _DRAWN:
        old = document["layout"].get(kind)
        if not isinstance(old, str) or _lines(kind, str(old)) != draft.lines:
            _put(document, ("layout", kind), _chart(draft.lines))
    else:
        _put(document, ("layout", kind), "".join(draft.lines))
    for other in KINDS:
        if other != kind:
            _drop(document, "layout", other)
    _put(document, ("layout", "mirror"), draft.mirror, False)
    _put(document, ("layout", "centre"), draft.centre, False)


def _chart(lines: tuple[str, ...]) -> object:
    text = "".join(f"{line}\n" for line in lines)
    if text.isascii() and text.replace("\n", "").replace(" ", "").isalnum():
        return tomlkit.parse(f'chart = """\n{text}"""\n')["chart"]
    return tomlkit.string(text, multiline=True)


def _put_colours(document: Any, colours: tuple[DraftColour, ...]) -> None:
    table = document.get("colours")
    if not isinstance(table, dict):
        document["colours"] = tomlkit.table()
        table = document["colours"]
    wanted = [colour.letter for colour in colours]
    for letter in [letter for letter in table if letter not in wanted]:
        table.remove(letter)
    there = list(table)
    if there != wanted[: len(there)]:
        kept = {letter: table[letter] for letter in there}
        for letter in there:
            table.remove(letter)
        for letter in wanted:
            table.append(letter, kept.get(letter, _new_colour()))
    in_lines = not any(isinstance(value, Table) for value in table.values())
    for colour in colours:
        if not isinstance(table.get(colour.letter), dict):
            if colour.letter in table:
                table.remove(colour.letter)
            table.append(colour.letter, _new_colour() if in_lines else tomlkit.table())
        _put(document, ("colours", colour.letter, "name"), colour.name)
        _put(document, ("colours", colour.letter, "hex"), colour.hex)


def _new_colour() -> object:
    return tomlkit.parse('A = { name = "", hex = "" }\n')["A"]


def _put(document: Any, path: tuple[str, ...], value: object, usual: object = None) -> None:
    """Give a key its value, unless it has it: by name, or by the default where it is left out."""
    *tables, key = path
    table = document
    for name in tables:
        inner = table.get(name)
        if not isinstance(inner, dict):
            if inner is None and usual is not None and value == usual:
                return
            table[name] = (
                tomlkit.inline_table() if isinstance(table, InlineTable) else tomlkit.table()
            )
        table = table[name]
    if key not in table:
        if usual is None or value != usual:
            table[key] = value
        return
    old = table[key]
    old = old.unwrap() if hasattr(old, "unwrap") else old
    plain = value.unwrap() if isinstance(value, InlineTable) else value
    if type(old) is not type(plain) or old != plain:
        table[key] = value


def _put_or_drop(document: Any, path: tuple[str, ...], value: object) -> None:
    """Give a key its value; without one the key goes."""
    if value:
        _put(document, path, value)
    elif len(path) == 1:
        document.pop(path[0], None)
    else:
        _drop(document, *path)


def _drop(document: Any, table: str, key: str) -> None:
    inner = document.get(table)
    if isinstance(inner, dict):
        inner.pop(key, None)


def _number(text: str) -> int | str:
    """A whole number as one; whatever else was typed as the text that it is."""
    plain = text.isascii() and text.isdecimal() and len(text) <= _MOST_DIGITS
    return int(text) if plain and str(int(text)) == text else text


def _measures(text: str) -> object:
    """A table of measures as one; a name as a text."""
    if text.startswith("{"):
        try:
            measures = tomlkit.parse(f"bead = {text}")
        except TOMLKitError:
            return text
        return measures["bead"] if list(measures) == ["bead"] else text
    return text


def _outline(draft: Draft) -> str:
    """A new file, its tables in the usual order; their values are put in."""
    size = {"fit": '[fit]\nwrist = ""\nease = ""\n', "rows": "[size]\nrows = 0\n"}
    beads = "".join(f'{key} = ""\n' for key in ("tile", "seed") if getattr(draft, key))
    start = 'start = ""\n' if draft.start else ""
    seeds = 'seeds = ""\n' if draft.seeds else ""
    parts = (
        f'format = {FORMAT}\nname = ""\nstitch = ""\n{draft.across} = 0\n{start}',
        size.get(draft.size_by, '[size]\nlength = ""\n'),
        f"[beads]\n{beads}",
        "[colours]\n",
        f'[layout]\n{seeds}{draft.layout} = ""\n',
        '[thread]\ndiameter = ""\nlength = ""\ntail = ""\n',
    )
    return "\n".join(parts)
