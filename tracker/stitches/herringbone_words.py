"""How two-hole herringbone speaks: lone seeds, groups, the open hole of the tile standing out."""

from __future__ import annotations

from collections.abc import Sequence

from tracker.path.wording import Run, Wording, called, listed


def through(run: Run, *, full: bool) -> str:
    """A hole of a tile, the lone seeds, or a group of the strung row."""
    return _tile(run, full=full) if run.first.hole else _seeds(run, full=full)


def _seeds(run: Run, *, full: bool) -> str:
    number = len(run.passes)
    if number == 1:
        return "the lone seed" if full else "lone seed"
    if run.row.section != "start":
        return f"the {number} lone seeds" if full else f"{number} lone seeds"
    return f"all {number} seeds of the group" if full else f"{number} seeds"


def _tile(run: Run, *, full: bool) -> str:
    colour, kind = called(run.beads, run.beads.bead(run.first.bead))
    hole = "open hole" if run.first.hole == "b" else "hole a"
    if run.new:
        which = "you just added"
    elif run.row.section == "start":
        which = "next on the string"
    else:
        which = "standing out"
    return f"the {hole} of the {colour} {kind} {which}" if full else f"{hole} of {colour}"


def pass_by(run: Run, passed: Sequence[int], *, full: bool) -> str:
    """The full tile behind the lone seed."""
    behind = " behind it" if full else ""
    names = [" ".join(called(run.beads, run.beads.bead(bead))) for bead in passed]
    return listed([f"the full {name}{behind}" for name in names])


WORDING = Wording(through=through, pass_by=pass_by)
"""The words of the trade for this stitch."""
