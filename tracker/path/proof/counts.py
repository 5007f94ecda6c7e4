"""Rule 7: the counts of the path are those that the stitch tells by formula.

What is said of ways holds while the band grows, and for levelling: there a seed met again is a
hinge and is passed the other way, and the needle keeps to its row's heading. At the two ends the
needle follows the thread wherever it goes; there the counts, rule 3 and rule 6 speak.
"""

from __future__ import annotations

from collections import Counter

from tracker.path.model import LEVELLING, SECOND_END, WOVEN, Row
from tracker.path.proof.expected import Expected
from tracker.path.proof.replay import Filling
from tracker.path.proof.trace import Fault, Trace


def counts(trace: Trace, filling: Filling, expected: Expected) -> list[Fault]:
    """Compare numbers of beads and, bead by bead, how often and which way the needle is in it."""
    faults = []
    for kind, found, due in (
        ("tiles", len(filling.tiles), expected.tiles),
        ("seeds", len(filling.seeds), expected.seeds),
        ("findings", len(filling.findings), expected.findings),
    ):
        if found != due:
            faults.append(Fault(7, 0, 0, f"{found} {kind} are picked up, {due} are due"))
    if not faults:
        passes = Counter(trace.met[0])
        faults += [
            trace.at_home(
                7, bead, f"the needle is in {trace.named(bead)} {passes[bead]} times, {due} are due"
            )
            for bead, due in enumerate(expected.passes)
            if passes[bead] != due
        ]
        if expected.upward is not None:
            faults += _upward(trace, expected.upward)
    return faults if expected.upward is not None else faults + _ways(trace)


def _upward(trace: Trace, due: bytes) -> list[Fault]:
    """How many of the passes of each bead go up, against what is due."""
    found = Counter(bead for bead, _, up, _ in trace.passes if up)
    return [
        trace.at_home(
            7,
            bead,
            f"the needle goes up through {trace.named(bead)} {found[bead]} times, {n} are due",
        )
        for bead, n in enumerate(due)
        if found[bead] != n
    ]


def _ways(trace: Trace) -> list[Fault]:
    """A seed that the thread meets again is passed the other way: a hinge, not a loop."""
    faults = []
    came_up: dict[int, bool] = {}
    for i, (bead, hole, up, _) in enumerate(trace.passes[: trace.closing]):
        if hole:
            continue
        if came_up.get(bead) == up:
            way = "upwards" if up else "downwards"
            faults.append(trace.fault(7, i, f"{trace.named(bead)} is passed {way} twice"))
        came_up[bead] = up
    return faults


def passing_by(trace: Trace, due: int) -> list[Fault]:
    """A bead to pass by is full when the needle comes to it, and the step leaves it alone.

    A tile is full with a thread in each hole, a seed with one.
    """
    faults = []
    named = sum(len(step.pass_by) for row in trace.path.rows for step in row.steps)
    if named != due:
        faults.append(Fault(7, 0, 0, f"{named} beads are to be passed by, {due} are due"))
    beads, _ = trace.met
    filled = dict.fromkeys(trace.beads, 0)
    counted = 0
    steps = (step for row in trace.path.rows for step in row.steps)
    for step, place, first in zip(steps, trace.steps, trace.first_of_step, strict=True):
        if not step.pass_by:
            continue
        for bead in beads[counted:first]:
            filled[bead] += 1
        counted = first
        touched = set(beads[first : first + len(step.passes)])
        for bead in step.pass_by:
            threads = filled.get(bead, 0)
            if bead in touched:
                what = f"{trace.named(bead)} is to be passed by and is gone through"
            elif not threads or (threads < 2 and trace.kind(bead) == "tile"):
                what = f"{trace.named(bead)} is to be passed by, though it is not full"
            else:
                continue
            faults.append(Fault(7, *place, what))
    return faults


def rows_told(trace: Trace) -> list[Fault]:
    """Every row lists the beads that it picks up."""
    what = "the list of the row's beads is not what is picked up"
    return [
        Fault(7, row.number, 0, what)
        for row in trace.path.rows
        if [bead.id for bead in row.beads]
        != [bead for step in row.steps for bead, _, _, new in step.passes if new]
    ]


def to_and_fro(trace: Trace) -> list[Fault]:
    """What makes a row of a band that is woven to and fro: the needle goes one way.

    It turns once, at the end of the row, and there goes back through the last hole.
    """
    return [fault for row in trace.path.rows for fault in _one_way(trace, row)]


def noted(trace: Trace, expected: Expected) -> list[Fault]:
    """What is done without a bead is done as often as is due, in steps of its own."""
    faults = []
    found: Counter[str] = Counter()
    for row in trace.path.rows:
        for number, step in enumerate(row.steps, start=1):
            if step.note:
                found[step.note] += 1
            if step.note == "tail" and row.section != SECOND_END:
                what = f"the tail is taken up in the section {row.section}"
                faults.append(Fault(7, row.number, number, what))
            if bool(step.note) == bool(step.passes):
                what = "a step goes through beads or tells something else to do, one of the two"
                faults.append(Fault(7, row.number, number, what))
    for note in sorted({*found, *expected.notes}):
        due = expected.notes.get(note, 0)
        if found[note] != due:
            what = f"{found[note]} times there is something to do of the kind {note}, {due} are due"
            faults.append(Fault(7, 0, 0, what))
    return faults


def _one_way(trace: Trace, row: Row) -> list[Fault]:
    faults: list[Fault] = []
    if row.section not in WOVEN and row.section != LEVELLING:
        return faults
    up = row.heading == "up"
    last = len(row.steps) if row.section in WOVEN else 0
    for number, step in enumerate(row.steps, start=1):
        if step.turn != (number == last):
            what = "the needle turns before the edge" if step.turn else "the turn is missing"
            faults.append(Fault(7, row.number, number, what))
        there, back = (step.passes[:-1], step.passes[-1:]) if step.turn else (step.passes, ())
        for passes, right in ((there, up), (back, not up)):
            for bead, _, goes_up, _ in passes:
                if goes_up != right:
                    what = f"{trace.named(bead)} is passed the wrong way"
                    faults.append(Fault(7, row.number, number, what))
    return faults
