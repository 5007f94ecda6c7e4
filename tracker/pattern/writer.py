"""A pattern as the text of its file: readable, and the same for the same design to the byte."""

from __future__ import annotations

from typing import TYPE_CHECKING

import tomli_w

from tracker.beads.model import Finding, Shape, Tile
from tracker.design.lengths import written
from tracker.design.model import NO_CLOSURE
from tracker.pattern.model import Pattern
from tracker.pattern.seal import FORMAT, seal_of

if TYPE_CHECKING:  # few bands are made to fit
    from tracker.fit.model import Fit

HEAD = """\
# A compiled pattern: every row and step of the thread path, proved. Made by `tracker compile`;
# to change the band, change its design and compile that again.
"""


def write(pattern: Pattern) -> str:
    """The text of the pattern's file."""
    rest = _tables(pattern) + _blocks(pattern)
    return f'{HEAD}format = {FORMAT}\nseal = "{seal_of(rest)}"\n{rest}'


def _tables(pattern: Pattern) -> str:
    top: dict[str, object] = {
        "name": pattern.name,
        "stitch": pattern.stitch,
        **_band(pattern),
        "design": pattern.design,
    }
    if pattern.target is not None:
        top["target"] = _length(pattern.target)
    gauge, thread = pattern.gauge, pattern.thread
    top["gauge"] = {
        **({"start": _length(gauge.start)} if gauge.start else {}),
        "pitch": _length(gauge.pitch),
        "width": _length(gauge.width),
        "pitch_spread": gauge.pitch_spread,
        "start_spread": _length(gauge.start_spread),
        "width_spread": gauge.width_spread,
    }
    if pattern.fit is not None:
        top["fit"] = _fit(pattern.fit)
    top["thread"] = {
        "diameter": _length(thread.diameter),
        "length": _length(thread.length),
        "tail": _length(thread.tail),
    }
    closure = pattern.closure
    if closure != NO_CLOSURE:
        top["closure"] = {
            "kind": closure.kind,
            "length": _length(closure.length),
            "rings": closure.rings,
            "colour": closure.colour,
        }
    top["colours"] = {
        colour.letter: {"name": colour.name, "hex": colour.hex} for colour in pattern.colours
    }
    top["shapes"] = {letter: _shape(shape) for letter, shape in pattern.shapes.items()}
    return tomli_w.dumps(top)


def _band(pattern: Pattern) -> dict[str, object]:
    """What is woven, what is usual left out."""
    table: dict[str, object] = {}
    for key in ("columns", "lanes", "start"):
        if getattr(pattern, key):
            table[key] = getattr(pattern, key)
    for key, usual in (("hinge", Pattern.hinge), ("cap", Pattern.cap)):
        if getattr(pattern, key) != usual:
            table[key] = getattr(pattern, key)
    if pattern.outline:
        table["outline"] = " ".join(f"{first}+{beads}" for first, beads in pattern.outline)
    if pattern.around:
        table["around"] = _length(pattern.around)
    return table


def _fit(fit: Fit) -> dict[str, object]:
    table: dict[str, object] = {
        key: _length(getattr(fit, key)) for key in ("wrist", "ease", "thickness")
    }
    if fit.closure_length:
        table["closure_length"] = _length(fit.closure_length)
    if fit.repeat_rows > 1:
        table["repeat_rows"] = fit.repeat_rows
    return table


def _shape(shape: Shape) -> dict[str, str]:
    table = {"kind": shape.kind, "name": shape.name}
    keys: tuple[str, ...] = ("diameter", "length", "hole")
    if isinstance(shape, Tile):
        keys = ("length", "passage", "thickness", "hole", "hole_spacing")
    elif isinstance(shape, Finding) and shape.hole_spacing:
        keys = (*keys, "hole_spacing")
    for key in keys:
        table[key] = _length(getattr(shape, key))
    return table


def _length(mm: float) -> str:
    return written(mm, places=4)


def _blocks(pattern: Pattern) -> str:
    # One literal block of lines: a reader takes it whole, where an array of a row's steps would
    # be parsed value by value (some sixty times slower).
    parts = [f"\n[places]\nlines = '''\n{_lines(pattern.places)}'''\n"]
    if pattern.written:
        parts.insert(0, f"\n[written]\nlines = '''\n{_lines(pattern.written)}'''\n")
    parts += [
        f"\n[[sections]]\nname = \"{section.name}\"\nrows = '''\n{_lines(section.lines)}'''\n"
        for section in pattern.sections
    ]
    return "".join(parts)


def _lines(lines: tuple[str, ...]) -> str:
    return "".join(f"{line}\n" for line in lines)
