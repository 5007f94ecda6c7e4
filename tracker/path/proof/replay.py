"""Rules 1, 2, 4 and 5: the passes one after the other, hole by hole.

A tile's hole is filled once while the band grows. Afterwards, at the two ends, the needle may go
through it again, and then finds a thread there.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable

from tracker.beads.model import Shape
from tracker.path.model import Hole
from tracker.path.plane import first_hole
from tracker.path.proof.trace import Fault, Trace
from tracker.records import record


@record
class Tightest:
    """The hole nearest to its limit: how many passes are in it of how many that it takes."""

    bead: int
    hole: Hole
    passes: int
    limit: int


@record
class Filling:
    """How often the needle is in each bead when the work is done."""

    seeds: dict[int, int]
    """Passes by seed."""
    tiles: dict[int, list[int]]
    """Passes through hole a and hole b, by tile."""
    findings: dict[int, Counter[Hole]]
    """Passes by finding and hole."""

    def has(self, bead: int) -> bool:
        """Whether the needle is in a bead at all."""
        return bead in self.seeds or bead in self.tiles or bead in self.findings

    def passes(self, bead: int) -> int:
        """Passes through a bead, over all its holes; 0 for one that is not there."""
        if bead in self.findings:
            return self.findings[bead].total()
        return self.seeds.get(bead, 0) or sum(self.tiles.get(bead, ()))


def replay(trace: Trace, *, refilled: bool = False) -> tuple[Filling, list[Fault]]:
    """Fill the holes in the order of the passes: rules 1, 2 and the second filling of rule 4.

    `refilled` says that the holes of tiles are filled more than once while the band grows.
    """
    faults: list[Fault] = []
    filling = Filling({}, {}, {})
    beads = trace.beads
    next_bead = 0
    last_bead, last_hole = -1, ""
    for i, (bead, hole, _up, picked_up) in enumerate(trace.passes):
        if i == trace.tail and i:
            last_bead, last_hole = trace.passes[0][:2]
        if bead == last_bead and hole == last_hole and i not in trace.under:
            what = f"the needle goes straight back through {trace.named(bead)}, which undoes it"
            faults.append(trace.fault(2, i, what))
        last_bead, last_hole = bead, hole
        there = filling.has(bead)
        if picked_up == there:
            what = "is picked up a second time" if there else "is gone through before it is there"
            faults.append(trace.fault(1, i, f"{trace.named(bead)} {what}"))
        elif picked_up:
            if bead != next_bead:
                what = f"{trace.named(bead)} is picked up when bead {next_bead} is due"
                faults.append(trace.fault(1, i, what))
            next_bead = bead + 1
        if bead in beads:
            _through(trace, i, filling, faults, refilled=refilled)
        else:
            faults.append(trace.fault(1, i, f"bead {bead} belongs to no row"))
    faults.extend(
        Fault(1, 0, 0, f"{trace.named(bead)} is never picked up")
        for bead in beads
        if not filling.has(bead)
    )
    return filling, faults


def _through(
    trace: Trace, i: int, filling: Filling, faults: list[Fault], *, refilled: bool
) -> None:
    bead, hole, _, _ = trace.passes[i]
    kind = trace.beads[bead].kind
    if kind == "tile":
        _through_tile(trace, i, filling.tiles, faults, refilled=refilled)
    elif kind == "finding":
        _through_finding(trace, i, filling.findings, faults)
    else:
        filling.seeds[bead] = filling.seeds.get(bead, 0) + 1
        if hole:
            faults.append(trace.fault(1, i, f"{trace.named(bead)} has no hole {hole}"))


def _through_tile(
    trace: Trace, i: int, tiles: dict[int, list[int]], faults: list[Fault], *, refilled: bool
) -> None:
    bead, hole, _, picked_up = trace.passes[i]
    filled = tiles.setdefault(bead, [0, 0])
    if hole not in ("a", "b"):
        faults.append(trace.fault(1, i, f"{trace.named(bead)} has two holes, none is named"))
        return
    side = 1 if hole == "b" else 0
    if picked_up and side:
        faults.append(trace.fault(1, i, f"{trace.named(bead)} is picked up by its hole b"))
    if i >= trace.closing and not filled[side]:
        what = f"hole {hole} of {trace.named(bead)} holds no thread to follow"
        faults.append(trace.fault(4, i, what))
    elif i < trace.closing and filled[side] and not refilled:
        what = f"hole {hole} of {trace.named(bead)} is full already"
        faults.append(trace.fault(4, i, what))
    filled[side] += 1


def _through_finding(
    trace: Trace, i: int, findings: dict[int, Counter[Hole]], faults: list[Fault]
) -> None:
    bead, hole, _, picked_up = trace.passes[i]
    shape = trace.path.shapes[trace.beads[bead].shape]
    first = first_hole(shape)
    findings.setdefault(bead, Counter())[hole] += 1
    if hole not in ((first, "b") if first else ("",)) or (picked_up and hole != first):
        faults.append(trace.fault(1, i, f"{trace.named(bead)} cannot be entered by hole {hole}"))


def open_holes(trace: Trace, filling: Filling, open_tiles: frozenset[int]) -> list[Fault]:
    """Rule 4: at the end exactly the `open_tiles` have hole b open."""
    faults = []
    for bead, (a, b) in filling.tiles.items():
        if not a or (not b and bead not in open_tiles):
            what = f"hole {'b' if a else 'a'} of {trace.named(bead)} stays open for ever"
        elif b and bead in open_tiles:
            what = f"hole b of {trace.named(bead)} is full, though the next row should find it open"
        else:
            continue
        faults.append(trace.at_home(4, bead, what))
    return faults


def tightest(
    trace: Trace, filling: Filling, room: Callable[[Shape], int]
) -> tuple[Tightest | None, list[Fault]]:
    """Rule 5: passes against the `room` of each hole, and the hole nearest to its limit.

    What is wrong with one bead of a shape is as a rule wrong with all of them: the first hole
    that is too tight for so many passes is named, the others are counted.
    """
    limits = {name: room(shape) for name, shape in trace.path.shapes.items()}
    worst: Tightest | None = None
    first: dict[tuple[str, int], int] = {}
    tight: Counter[tuple[str, int]] = Counter()
    for bead, hole, passes in _by_hole(filling):
        shape = trace.beads[bead].shape
        limit = limits[shape]
        if passes > limit:
            first.setdefault((shape, passes), bead)
            tight[shape, passes] += 1
        if worst is None or limit - passes < worst.limit - worst.passes:
            worst = Tightest(bead, hole, passes, limit)
    faults = []
    for (shape, passes), bead in first.items():
        others = tight[shape, passes] - 1
        what = (
            f"{passes} passes through {trace.named(bead)}, whose hole takes {limits[shape]} "
            f"with this thread and the thinnest needle{f' (and {others} more)' if others else ''}"
        )
        faults.append(trace.at_home(5, bead, what))
    return worst, faults


def _by_hole(filling: Filling) -> list[tuple[int, Hole, int]]:
    holes: list[tuple[int, Hole, int]] = [(bead, "", n) for bead, n in filling.seeds.items()]
    for bead, (a, b) in filling.tiles.items():
        holes += [(bead, "a", a), (bead, "b", b)]
    holes += [
        (bead, hole, n) for bead, through in filling.findings.items() for hole, n in through.items()
    ]
    return holes
