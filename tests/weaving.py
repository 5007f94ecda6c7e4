"""Designs, paths and proofs for the tests of the heart, made without a file."""

from collections.abc import Iterator
from dataclasses import replace

import hypothesis.strategies as st

from tracker.beads.catalogue import seeds, tiles
from tracker.beads.model import Seed, Tile
from tracker.design.model import (
    NO_CLOSURE,
    Closure,
    ClosureKind,
    Colour,
    Design,
    Layout,
    Size,
    Thread,
)
from tracker.path.model import WOVEN, Bead, Pass, Step, ThreadPath
from tracker.path.proof.prove import Proof
from tracker.pattern.compiler import prove_path
from tracker.stitches import find_stitch

STITCH = find_stitch("two-hole herringbone")
COLOURS = (
    Colour("A", "lagoon", "#2a7f8e"),
    Colour("B", "sand", "#e8dcc0"),
    Colour("S", "smoke", "#6b6f76"),
)
THREAD = Thread(diameter=0.15, length=1800.0, tail=250.0)


def layouts(columns: int) -> st.SearchStrategy[Layout]:
    """Any layout in the colours A and B."""
    lane = st.text("AB", min_size=2 * columns, max_size=2 * columns)
    lanes = st.tuples(lane).map(lambda lines: Layout(seeds="S", kind="lanes", lines=lines))
    rows = st.builds(
        lambda lines, mirror, centre: Layout(
            seeds="S", kind="rows", lines=tuple(lines), mirror=mirror, centre=centre
        ),
        st.text("AB", min_size=1, max_size=9),
        st.booleans(),
        st.booleans(),
    )
    charts = st.builds(
        lambda lines, mirror: Layout(seeds="S", kind="chart", lines=tuple(lines), mirror=mirror),
        st.lists(lane, min_size=1, max_size=4),
        st.booleans(),
    )
    return lanes | rows | charts


def a_design(
    columns: int = 2,
    rows: int | None = 6,
    *,
    length: float | None = None,
    layout: Layout | None = None,
    spacing: float = 3.0,
    thread: Thread = THREAD,
    beads: tuple[str, str] = ("half tile", "15/0"),
    closure: Closure = NO_CLOSURE,
) -> Design:
    """A band, tiles of up rows in A and of down rows in B by default; lengths in mm."""
    tile = tiles()[beads[0]]
    if spacing != tile.hole_spacing and beads[0] == "half tile":
        tile = replace(tile, name="half tile, measured", hole_spacing=spacing)
    lanes = Layout(seeds="S", kind="lanes", lines=("BA" * columns,))
    return Design(
        name="Harbour lights",
        stitch=STITCH.name,
        columns=columns,
        size=Size(length=length) if length is not None else Size(rows=rows),
        tile=tile,
        seed=seeds()[beads[1]],
        colours=COLOURS,
        layout=layout or lanes,
        thread=thread,
        closure=closure,
    )


def woven(columns: int = 2, rows: int = 6, *, spacing: float = 3.0) -> ThreadPath:
    """The path of a band of half tiles with the holes `spacing` (mm) apart."""
    return STITCH.weave(a_design(columns, rows, spacing=spacing), rows)


def closed_with(kind: ClosureKind, columns: int = 2, rings: int | None = None) -> Closure:
    """A closure of that kind, with as many loops as there are columns, but no more than 3."""
    number = 0 if kind != "bead loops" else min(columns, 3) if rings is None else rings
    return Closure(kind=kind, length=20.0, rings=number, colour="B")


def proof_of(
    path: ThreadPath, columns: int = 2, thread: Thread = THREAD, closure: Closure = NO_CLOSURE
) -> Proof:
    """The proof of a path with as many columns and such ends."""
    rows = sum(row.section in WOVEN for row in path.rows)
    shapes = path.shapes.values()
    design = replace(
        a_design(columns, rows, closure=closure),
        tile=next(shape for shape in shapes if isinstance(shape, Tile)),
        seed=next(shape for shape in shapes if isinstance(shape, Seed)),
    )
    return prove_path(path, STITCH, STITCH.band(design, rows), thread)


def passes_of(path: ThreadPath) -> list[Pass]:
    """All passes in order."""
    return [p for row in path.rows for step in row.steps for p in step.passes]


def beads_of(path: ThreadPath) -> dict[int, Bead]:
    """All beads by number."""
    return {bead.id: bead for row in path.rows for bead in row.beads}


def tile_of(path: ThreadPath, row: int, column: int) -> int:
    """The number of a tile; rows and columns count from 1."""
    tiles_in = [bead.id for bead in path.rows[row - 1].beads if bead.kind == "tile"]
    return tiles_in[column - 1] if row % 2 else tiles_in[-column]


def lone_seed_of(path: ThreadPath, row: int, column: int) -> int:
    """The number of a lone seed; rows (from 2) and columns count from 1."""
    return tile_of(path, row, column) - 1


def with_step(path: ThreadPath, row: int, step: int, changed: Step) -> ThreadPath:
    """The path with one step in another's place; rows and steps count from 1."""
    rows = list(path.rows)
    steps = list(rows[row - 1].steps)
    steps[step - 1] = changed
    rows[row - 1] = replace(rows[row - 1], steps=tuple(steps))
    return replace(path, rows=tuple(rows))


def with_passes(path: ThreadPath, row: int, step: int, passes: list[Pass]) -> ThreadPath:
    """The path with other passes in one step; rows and steps count from 1."""
    old = path.rows[row - 1].steps[step - 1]
    return with_step(path, row, step, old._replace(passes=tuple(passes)))


def places_of_passes(path: ThreadPath) -> Iterator[tuple[int, int, int]]:
    """Row and step (from 1) and the number in its step (from 0) of each pass."""
    for row in path.rows:
        for number, step in enumerate(row.steps, start=1):
            for i in range(len(step.passes)):
                yield row.number, number, i


def wide_tile(path: ThreadPath) -> Tile:
    """The tile that the path is woven with."""
    return next(shape for shape in path.shapes.values() if isinstance(shape, Tile))
