"""The beads of a design: named, or measured by the beader."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TypeVar

from tracker.beads.catalogue import seeds, tiles
from tracker.beads.model import Seed, Tile
from tracker.design.demands import Demands
from tracker.design.fields import Fields, quoted
from tracker.design.lengths import written
from tracker.records import record

_S = TypeVar("_S", Tile, Seed)

_TILE_MEASURES = ("length", "passage", "thickness", "hole", "hole_spacing")
_SEED_MEASURES = ("diameter", "length", "hole")
_SMALLEST, _LARGEST = 0.1, 50.0
_MOST_HINGE, _MOST_CAP = 4, 9
_MEASURE_AGAIN = "measure the bead again, or mend the figure"


@record
class Beads:
    """What a design is woven with; None for what its stitch has no use for."""

    tile: Tile | None
    seed: Seed | None
    hinge: int = 0
    cap: int = 0

    def shapes(self) -> tuple[Tile | Seed, ...]:
        """Those that there are."""
        return tuple(shape for shape in (self.tile, self.seed) if shape is not None)


def read_beads(top: Fields, demands: Demands) -> Beads | None:
    """The beads of the design, such as its stitch demands."""
    usual = {"tile": 'tile = "half tile"', "seed": 'seed = "15/0"'}
    given = top.values.get("beads")
    needed = [key for key in usual if getattr(demands, key)]
    if demands.written:
        # Rows told by hand take whatever beads there are, at least one kind.
        there = given if isinstance(given, dict) else {}
        needed = [key for key in usual if key in there] or ["seed"]
    beads = top.table("beads", f"add [beads] with {' and '.join(usual[key] for key in needed)}")
    if beads is None:
        return None
    for key in usual:
        if key not in needed and key in beads.values:
            beads.problem(key, f"has no place in this stitch, which takes no {key}", "leave it out")
    counts = ("hinge", "cap") if demands.hinges else ()
    beads.refuse_unknown((*usual, *counts))
    before = len(beads.problems)
    tile = _shape(beads, "tile", tiles(), _TILE_MEASURES, Tile) if "tile" in needed else None
    seed = _shape(beads, "seed", seeds(), _SEED_MEASURES, Seed) if "seed" in needed else None
    hinge = beads.whole("hinge", 1, _MOST_HINGE, default=0) if demands.hinges else 0
    cap = beads.whole("cap", 2, _MOST_CAP, default=0) if demands.hinges else 0
    # A key that is missing since it is misspelt is no problem of its own.
    missed = any(shape is None for key, shape in (("tile", tile), ("seed", seed)) if key in needed)
    if missed or len(beads.problems) > before or hinge is None or cap is None:
        return None
    if tile is not None and seed is not None and tile.name == seed.name:
        beads.problem("seed", f"has the tile's name, {quoted(seed.name)}", "name it otherwise")
    if hinge and cap and cap <= hinge:
        what = f"{cap} seeds at the cap leave none to turn with, {hinge} are at the hinge"
        beads.problem("cap", what, f"write {hinge + 1} or more")
    return Beads(tile, seed, hinge, cap)


def _shape(
    beads: Fields, key: str, known: Mapping[str, _S], measures: tuple[str, ...], make: type[_S]
) -> _S | None:
    usual = "half tile" if make is Tile else "15/0"
    if not isinstance(beads.values.get(key), dict):
        mend = f'name one, such as "{usual}", or give a table of its measures'
        name = beads.choice(key, known, mend)
        return None if name is None else known[name]
    fields = beads.table(key)
    assert fields is not None
    before = len(fields.problems)
    fields.refuse_unknown(("like", "name", *measures))
    like = fields.choice("like", known, "name a known one") if "like" in fields.values else ""
    base = known.get(like or "")
    measured = [measure for measure in measures if measure in fields.values]
    given = {
        measure: fields.length(
            measure,
            _SMALLEST,
            _LARGEST,
            getattr(base, measure, None),
            getattr(known[usual], measure),
        )
        for measure in (measured if like is None else measures)
    }
    name = _name(fields, like or f"own {key}", bool(measured))
    sizes = {measure: size for measure, size in given.items() if size is not None}
    if name is None or len(fields.problems) > before:
        return None
    if base is not None and not measured:
        return replace(base, name=name)
    shape = make(name=name, **sizes)
    _check(fields, shape)
    return shape


def _name(fields: Fields, like: str, measured: bool) -> str | None:
    """What the bead is called; a name of the trade stands for the trade's measures only."""
    if "name" not in fields.values:
        return f"{like}, measured" if measured and "like" in fields.values else like
    name = fields.name("name", "name the bead, or leave the key out")
    if name in {*tiles(), *seeds()} and (measured or name != like):
        fields.problem("name", f"{quoted(name or '')} is another bead's name", "name it otherwise")
    return name


def _check(fields: Fields, shape: Tile | Seed) -> None:
    """Note measures that no bead can have together."""
    hole = written(shape.hole)
    if isinstance(shape, Seed):
        if shape.hole >= shape.diameter:
            what = f"a hole of {hole} does not fit a seed {written(shape.diameter)} across"
            fields.problem("hole", what, _MEASURE_AGAIN)
        return
    if shape.hole >= shape.thickness:
        what = f"a hole of {hole} does not fit a tile {written(shape.thickness)} thick"
        fields.problem("hole", what, _MEASURE_AGAIN)
    spacing = written(shape.hole_spacing)
    if shape.hole_spacing <= shape.hole:
        what = f"holes of {hole} run into each other with their centres {spacing} apart"
        fields.problem("hole_spacing", what, _MEASURE_AGAIN)
    if shape.hole_spacing + shape.hole >= shape.length:
        what = f"holes {spacing} apart break out of a tile {written(shape.length)} long"
        fields.problem("hole_spacing", what, _MEASURE_AGAIN)
