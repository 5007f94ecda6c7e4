"""What all peyote has in common: staggered seeds, each row in the gaps of the one before.

The hole of every seed runs across the band. The seeds of a row fill every other lane and stand
out by half a diameter; the next row is sewn from one seed standing out to the next, a new seed
in each gap. The strung row becomes two rows of beads, so `n` woven rows are `n` + 1 of beads.

The gauge is that of the seeds themselves: end to end across, side by side along a lane (common
practice: a lane of peyote is a column of seeds touching each other).
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence

from tracker.design.model import Design
from tracker.path.gauge import Gauge
from tracker.path.model import Place
from tracker.path.plane import place
from tracker.path.wording import Run, Wording, called, counted, listed

SPREAD = 0.05
"""Expected error of pitch and width, as a share: makers differ by about 5 % (common practice)."""
GIVE = 0.1
"""How much longer a bare thread may be than the seeds' sizes say, mm: their places are rounded."""
_ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth")


def gauge(design: Design) -> Gauge:
    """Row pitch (half a seed), width, on a tube the girth, and length, by the seeds' sizes."""
    seed = design.own_seed
    return Gauge(
        start=seed.diameter,
        pitch=seed.diameter / 2,
        width=design.lanes * seed.length,
        pitch_spread=SPREAD,
        start_spread=0.5,
        width_spread=SPREAD,
    )


def lies(design: Design, beads_row: int, lane: int) -> Place:
    """Where the seed of a row of beads and a lane lies, both from 1."""
    seed = design.own_seed
    return place((beads_row - 1) * seed.diameter / 2, (lane - 0.5) * seed.length, 0.0)


# --- words ------------------------------------------------------------------------------------


def named(run: Run, beads: Sequence[int]) -> str:
    """Beads by colour, as many as there are: `ivory seed`, `2 ivory seeds`, `2 seeds`."""
    found = [run.beads.bead(bead) for bead in beads]
    names = {called(run.beads, bead) for bead in found}
    colour, kind = called(run.beads, found[0]) if len(names) == 1 else ("", found[0].kind)
    return counted(len(found), colour, kind).removeprefix("1 ")


def told(run: Run, beads: Sequence[int], which: str, *, full: bool) -> str:
    """Beads with the words that say which, in full with their kind and number."""
    if full:
        return f"the {named(run, beads)} {which}"
    colours = dict.fromkeys(called(run.beads, run.beads.bead(bead))[0] for bead in beads)
    return f"{' and '.join(colours)} {which}"


def through(run: Run, *, full: bool) -> str:
    """The seed standing out; in the first rows, where nothing does yet, which else it is."""
    return told(run, [p.bead for p in run.passes], _which(run), full=full)


def _which(run: Run) -> str:
    first = run.first
    if run.just_added:
        return "you just added"
    if run.new:
        last = run.row.beads[-len(run.passes)].id
        return "you added last" if first.bead >= last else "you added last but one"
    if run.row.number > 2:
        return "standing out"
    ahead = first.up == (run.row.heading == "up")
    if ahead and all(p.picked_up for p in run.step.passes[: run.step.passes.index(first)]):
        return "after that"
    # At the edge the needle also goes through the first few, and back.
    return f"strung {listed([_ORDINALS[bead] for bead in sorted(p.bead for p in run.passes)])}"


def pass_by(run: Run, passed: Sequence[int], *, full: bool) -> str:
    """The low seed in the gap, on which the new one comes to lie."""
    return told(run, passed, f"below {'it' if len(passed) == 1 else 'them'}", full=full)


def together(run: Run) -> Hashable:
    """Seeds end to end in one row of beads are gone through in one move."""
    return ("along", run.beads.bead(run.first.bead).place.x)


WORDING = Wording(through=through, pass_by=pass_by, together=together)
