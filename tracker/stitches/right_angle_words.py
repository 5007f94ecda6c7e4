"""How right-angle weave speaks: the seed that closes a unit, that of the row before, the way on."""

from __future__ import annotations

from collections.abc import Hashable, Sequence

from tracker.path.wording import Run, Wording, called


def _part(run: Run) -> str:
    """What a pass is in its unit: "beside" the row before, "close", or "on" to the next unit."""
    passes = run.step.passes
    at = next(i for i, p in enumerate(passes) if p is run.first)
    new = [i for i, p in enumerate(passes) if p.picked_up]
    if not new:
        return "on"
    if at < new[0]:
        return "beside"
    old = at - new[-1]
    if len(new) == 2 and new[0] == 0:
        # Only here does the seed of the row before come after the new ones.
        return ("beside", "close")[old - 1] if old <= 2 else "on"
    return "close" if old == 1 else "on"


def through(run: Run, *, full: bool) -> str:
    """The seed of the row before, the one that closes the unit, or those on the way onwards."""
    part, number = _part(run), len(run.passes)
    named = " ".join(called(run.beads, run.beads.bead(run.first.bead)))
    if part == "on":
        if not full:
            return f"on by {number}"
        return f"the next {f'{number} seeds' if number > 1 else 'seed'}, the same way round"
    if part == "beside":
        return f"the {named} of the row before" if full else f"{named} of the row before"
    if sum(p.picked_up for p in run.step.passes) == 4:
        return f"the {named} you picked up first, again" if full else "the first again"
    return f"the {named} that the thread came from" if full else "close"


def together(run: Run) -> Hashable:
    """On round is one move."""
    return "on" if _part(run) == "on" else None


def pass_by(run: Run, passed: Sequence[int], *, full: bool) -> str:
    """The seed straight over the crossing."""
    name = " ".join(called(run.beads, run.beads.bead(passed[0])))
    return f"the {name} straight ahead" if full else f"{name} ahead"


WORDING = Wording(through=through, pass_by=pass_by, together=together, turns_back=False)
"""The words of the trade for this stitch."""


def hint(row: int, step: int, lanes: int) -> str:
    """What a learner should see."""
    if row == 1 and step == 1:
        return "4 seeds make a square; leave the tail in hand and pull the ring tight"
    if step > lanes:
        return "the thread comes out along the edge that grows, ready for the row back"
    if row == 1:
        return "the needle goes round each square the other way than round the one before"
    if step == 1:
        return "the first square of a row takes 3 new seeds"
    return "only 2 new seeds: a square shares one with its neighbour, one with the row before"
