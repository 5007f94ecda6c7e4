"""What the tests of the stitches share: designs of seeds, and checks that hold for every stitch."""

from collections.abc import Iterator
from dataclasses import replace

import networkx as nx
from weaving import COLOURS, THREAD

from tracker.beads.catalogue import seeds
from tracker.design.model import Design, Layout, Size
from tracker.path.model import Pass, ThreadPath
from tracker.path.proof.prove import Proof
from tracker.pattern.compiler import prove_path
from tracker.stitches import find_stitch


def a_seed_design(
    stitch: str,
    wide: int,
    rows: int,
    *,
    layout: Layout | None = None,
    seed: str = "11/0",
    start: str = "",
) -> Design:
    """A band of seeds, `wide` in the stitch's own unit, its lanes in A and B by turns."""
    demands = find_stitch(stitch).demands
    columns = wide if demands.across == "columns" else 0
    lanes = wide if demands.across == "lanes" else 0
    letters = ("AB" * (lanes or 2 * columns))[: lanes or 2 * columns]
    return Design(
        name="Harbour lights",
        stitch=stitch,
        columns=columns,
        lanes=lanes,
        size=Size(rows=rows),
        seed=seeds()[seed],
        start=start or (demands.starts[0] if demands.starts else ""),
        colours=COLOURS,
        layout=layout or Layout(seeds="", kind="lanes", lines=(letters,)),
        thread=THREAD,
    )


def woven(design: Design) -> ThreadPath:
    """The path of a design by its rows."""
    assert design.size.rows is not None
    return find_stitch(design.stitch).weave(design, design.size.rows)


def proof_of(design: Design, path: ThreadPath) -> Proof:
    """The proof of a path that is to be the design's."""
    stitch = find_stitch(design.stitch)
    assert design.size.rows is not None
    return prove_path(path, stitch, stitch.band(design, design.size.rows), design.thread)


def table(path: ThreadPath) -> Iterator[str]:
    """The path as a table is written by hand, a step a line: `2 down: +5 4^ !3 ~1~2 5v turn`.

    +5 picks up bead 5, 4 goes through bead 4, ^ upwards and v downwards (new beads too), !3 passes
    by bead 3, ~1~2 goes under the thread between beads 1 and 2; a and b are holes of tiles.
    """
    for row in path.rows:
        for step in row.steps:
            moves = []
            under = {at: f"~{one}~{other}" for at, (one, other) in step.under}
            for i, p in enumerate(step.passes):
                moves += [under[i]] if i in under else []
                new = "+" if p.picked_up else ""
                moves.append(f"{new}{p.bead}{p.hole}{'^' if p.up else 'v'}")
            moves += [f"!{bead}" for bead in step.pass_by] + ["turn"] * step.turn
            yield f"{row.number} {row.heading}: {' '.join(moves)}"


def graph_of(path: ThreadPath) -> nx.Graph:
    """Beads joined by spans of thread; a thread gone under joins to the beads it lies between."""
    graph = nx.Graph()
    last: int | None = None
    for row in path.rows:
        for step in row.steps:
            under = dict(step.under)
            for i, p in enumerate(step.passes):
                graph.add_node(p.bead)
                if i in under:
                    ends = {p.bead, p.bead if last is None else last}
                    graph.add_edges_from((e, held) for e in ends for held in under[i] if e != held)
                elif last not in (None, p.bead):
                    graph.add_edge(last, p.bead)
                last = p.bead
    return graph


def with_threads_gone_under(path: ThreadPath) -> nx.Graph:
    """The same, but a thread gone under is a point of its own in the middle of its line.

    What hangs on it is joined to that, and a thread that hangs there can be gone under in turn.
    Beads are numbers, those points are pairs of two.
    """
    graph = nx.Graph()
    spans: dict[frozenset[int], tuple[object, object]] = {}
    hanging: dict[frozenset[int], tuple[object, object]] = {}
    parted: dict[tuple[object, object], object] = {}
    last: int | None = None
    for row in path.rows:
        for step in row.steps:
            under = dict(step.under)
            for i, p in enumerate(step.passes):
                if i in under:
                    held = frozenset(under[i])
                    line = spans.get(held) or hanging[held]
                    if line not in parted:
                        parted[line] = under[i]
                        graph.remove_edge(*line)
                        graph.add_edges_from((end, under[i]) for end in line)
                    for end in {p.bead, p.bead if last is None else last} - held:
                        if (end, parted[line]) not in parted:
                            graph.add_edge(end, parted[line])
                        for bead in held:
                            hanging.setdefault(frozenset((end, bead)), (end, parted[line]))
                elif last not in (None, p.bead) and frozenset((last, p.bead)) not in spans:
                    spans[frozenset((last, p.bead))] = (last, p.bead)
                    graph.add_edge(last, p.bead)
                last = p.bead
    return graph


def spoilt(path: ThreadPath) -> Iterator[tuple[str, ThreadPath]]:
    """The path with a single slip, every one of some kinds, each with its words.

    A pass left out, made twice, the other way or through the bead before or after; two passes of a
    step swapped. Left out are slips that change nothing.
    """
    for r, row in enumerate(path.rows):
        for s, step in enumerate(row.steps):
            for i in range(len(step.passes)):
                for what, passes in _slips(step.passes, i):
                    if passes == step.passes:
                        continue
                    steps = list(row.steps)
                    steps[s] = step._replace(passes=passes)
                    rows = list(path.rows)
                    rows[r] = replace(row, steps=tuple(steps))
                    where = f"row {r + 1} step {s + 1} pass {i + 1}"
                    yield f"{where}: {what}", replace(path, rows=tuple(rows))


def _slips(passes: tuple[Pass, ...], i: int) -> Iterator[tuple[str, tuple[Pass, ...]]]:
    p, before, after = passes[i], passes[:i], passes[i + 1 :]
    yield "left out", (*before, *after)
    yield "twice", (*before, p, p._replace(picked_up=False), *after)
    yield "the other way", (*before, p._replace(up=not p.up), *after)
    if not p.picked_up:
        for bead in (p.bead - 1, p.bead + 1, p.bead - 2, p.bead + 2):
            if bead >= 0:
                yield f"through {bead}", (*before, p._replace(bead=bead), *after)
    if after:
        yield "swapped with the next", (*before, after[0], p, *after[1:])
