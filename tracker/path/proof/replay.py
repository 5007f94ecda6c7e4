"""Rules 1, 2, 4 and 5: the passes one after the other, hole by hole.

A tile's hole is filled once while the band grows. Afterwards, at the two ends, the needle may go
through it again, and then finds a thread there.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator

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

    @property
    def beads(self) -> int:
        """How many beads the needle is in."""
        return len(self.seeds) + len(self.tiles) + len(self.findings)

    def has(self, bead: int) -> bool:
        """Whether the needle is in a bead at all."""
        return bead in self.seeds or bead in self.tiles or bead in self.findings


def replay(trace: Trace, *, refilled: bool = False) -> tuple[Filling, list[Fault]]:
    """Fill the holes in the order of the passes: rules 1, 2 and the second filling of rule 4.

    `refilled` says that the holes of tiles are filled more than once while the band grows.
    """
    faults: list[Fault] = []
    filling = Filling({}, {}, {})
    seeds, tiles, beads, closing = filling.seeds, filling.tiles, trace.beads, trace.closing
    next_bead = 0
    # Hot: what is right at a glance is filled in here, all else is looked into below. As long as
    # there is no fault, the beads that are there are those before the next one.
    for i, (bead, hole, _up, picked_up) in enumerate(trace.passes):
        if not picked_up:
            if not hole and bead in seeds:
                seeds[bead] += 1
                continue
            filled = tiles.get(bead)
            if filled and hole == "b" and not filled[1] and i < closing:
                filled[1] = 1
                continue
        elif bead == next_bead and bead in beads and not faults and i < closing:
            kind = beads[bead].kind
            if kind == "tile" and hole == "a":
                tiles[bead] = [1, 0]
                next_bead += 1
                continue
            if kind == "seed" and not hole:
                seeds[bead] = 1
                next_bead += 1
                continue
        next_bead = _look_into(trace, i, next_bead, filling, faults, refilled=refilled)
    if filling.beads < len(beads):  # only beads of rows are filled
        faults += [
            Fault(1, 0, 0, f"{trace.named(bead)} is never picked up")
            for bead in beads
            if not filling.has(bead)
        ]
    return filling, faults + _straight_back(trace)


def _straight_back(trace: Trace) -> list[Fault]:
    """Rule 2: no pass goes back through the hole that it comes out of."""
    faults = []
    for i, (bead, last) in enumerate(zip(*trace.met, strict=True)):
        if bead == last and i and i not in trace.under:
            hole = trace.passes[i].hole
            if hole == trace.passes[0 if i == trace.tail else i - 1].hole:
                what = f"the needle goes straight back through {trace.named(bead)}, which undoes it"
                faults.append(trace.fault(2, i, what))
    return faults


def _look_into(
    trace: Trace, i: int, next_bead: int, filling: Filling, faults: list[Fault], *, refilled: bool
) -> int:
    """Fill in pass `i` whatever it is, with all that is wrong with it; the next bead due."""
    bead, hole, _, picked_up = trace.passes[i]
    there = filling.has(bead)
    if picked_up == there:
        what = "is picked up a second time" if there else "is gone through before it is there"
        faults.append(trace.fault(1, i, f"{trace.named(bead)} {what}"))
    elif picked_up:
        if bead != next_bead:
            what = f"{trace.named(bead)} is picked up when bead {next_bead} is due"
            faults.append(trace.fault(1, i, what))
        next_bead = bead + 1
    kind = trace.kind(bead)
    if bead not in trace.beads:
        faults.append(trace.fault(1, i, f"bead {bead} belongs to no row"))
    elif kind == "tile":
        _through_tile(trace, i, filling.tiles, faults, refilled=refilled)
    elif kind == "finding":
        _through_finding(trace, i, filling.findings, faults)
    else:
        filling.seeds[bead] = filling.seeds.get(bead, 0) + 1
        if hole:
            faults.append(trace.fault(1, i, f"{trace.named(bead)} has no hole {hole}"))
    return next_bead


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
    beads = trace.beads
    limits = {name: room(shape) for name, shape in trace.path.shapes.items()}
    worst: Tightest | None = None
    most = dict.fromkeys(limits, -1)
    first: dict[tuple[str, int], int] = {}
    tight: Counter[tuple[str, int]] = Counter()
    for bead, hole, passes in _by_hole(filling):
        shape = beads[bead].shape
        if passes <= most[shape]:  # that many are known to go through, and no hole is tighter
            continue
        limit = limits[shape]
        most[shape] = min(passes, limit)
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


def _by_hole(filling: Filling) -> Iterator[tuple[int, Hole, int]]:
    for bead, passes in filling.seeds.items():
        yield bead, "", passes
    for bead, (a, b) in filling.tiles.items():
        yield bead, "a", a
        yield bead, "b", b
    for bead, through in filling.findings.items():
        for hole, passes in through.items():
            yield bead, hole, passes
