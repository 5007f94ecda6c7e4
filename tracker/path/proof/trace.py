"""A thread path laid out flat for replaying, and what a replay reports."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property

from tracker.path.model import LEVELLING, WOVEN, Bead, Hole, Pass, ThreadPath
from tracker.path.plane import Mouths, nearer
from tracker.path.proof.spans import Span, Spans
from tracker.records import record


@record
class Fault:
    """A rule that the path breaks, and where. Rows and steps count from 1; 0 is the whole."""

    rule: int
    row: int
    step: int
    what: str

    @property
    def where(self) -> str:
        """The place in words."""
        if not self.row:
            return "the whole path"
        return f"row {self.row}, step {self.step}" if self.step else f"row {self.row}"


@dataclass
class Trace:
    """All passes in order. Pass i belongs to step `step_of[i]`, whose place is `steps[...]`."""

    path: ThreadPath
    beads: dict[int, Bead] = field(default_factory=dict)
    passes: list[Pass] = field(default_factory=list)
    first_of_step: list[int] = field(default_factory=list)
    """For each step of the path, in order, the number of its first pass."""
    steps: list[tuple[int, int]] = field(default_factory=list)
    """For each step, its row's number and its own, both from 1."""
    closing: int = 0
    """The number of the first pass of the two ends, where the thread goes over finished work."""
    tail: int | None = None
    """The number of the first pass that is made with the tail; None if none is."""
    trimmed: list[int] = field(default_factory=list)
    """Numbers of the passes before which the thread is cut."""
    under: dict[int, tuple[int, int]] = field(default_factory=dict)
    """The two beads whose thread the needle goes under, by the number of the pass after it."""

    @classmethod
    def of(cls, path: ThreadPath) -> Trace:
        """Lay `path` out."""
        trace = cls(path)
        trace.beads = {bead.id: bead for row in path.rows for bead in row.beads}
        passes = trace.passes
        for row in path.rows:
            trace.steps += [(row.number, number) for number in range(1, len(row.steps) + 1)]
            for step in row.steps:
                first = len(passes)
                trace.first_of_step.append(first)
                if step.note == "tail" and trace.tail is None:
                    trace.tail = first
                elif step.note == "trim":
                    trace.trimmed.append(first)
                for at, beads in step.under:
                    trace.under[first + at] = beads
                passes += step.passes
            if row.section in WOVEN or row.section == LEVELLING:
                trace.closing = len(passes)
        return trace

    @cached_property
    def met(self) -> tuple[list[int], list[int]]:
        """The bead of each pass, and the bead that the thread comes out of before it.

        The tail comes out of the first bead; so the very first pass begins there too.
        """
        beads = [bead for bead, _, _, _ in self.passes]
        before = [*beads[:1], *beads[:-1]]
        if self.tail and self.tail < len(beads):
            before[self.tail] = beads[0]
        return beads, before

    @cached_property
    def ends(self) -> list[tuple[float, float, float, float]]:
        """Entry x and y, exit x and y of each pass (mm); every bead must be there (rule 1)."""
        mouths, beads = Mouths(self.path.shapes), self.beads
        found = [mouths.ends(beads[bead], hole, up) for bead, hole, up, _ in self.passes]
        return _unrolled(found, self.path.around) if self.path.around else found

    @cached_property
    def spans(self) -> list[Span]:
        """The bare thread before each pass, from where `before` says (after rule 1, as `ends`)."""
        if not self.passes:
            return []
        measured = Spans(Mouths(self.path.shapes), self.beads, self.path.around)
        first, tail = self.passes[0], self.tail or len(self.passes)
        # The tail comes out where the needle went in: as if it had gone the other way there.
        first = first._replace(up=not first.up)
        parts = (self.passes[:tail], self.passes[tail:])
        return [span for part in parts for span in measured.along(first, part)]

    def before(self, at: int) -> tuple[int, Hole, float, float]:
        """Bead and hole that the thread comes out of before pass `at`, and where (x, y in mm).

        The tail comes out of the first bead at the end at which the needle went in; so the
        very first pass begins there too.
        """
        if at in (0, self.tail):
            bead, hole, _, _ = self.passes[0]
            return (bead, hole, self.ends[0][0], self.ends[0][1])
        bead, hole, _, _ = self.passes[at - 1]
        return (bead, hole, self.ends[at - 1][2], self.ends[at - 1][3])

    def fault(self, rule: int, at: int, what: str) -> Fault:
        """A fault at pass number `at`."""
        # Faults are rare, so the place is looked up only when there is one.
        low, high = 0, len(self.first_of_step)
        while high - low > 1:
            middle = (low + high) // 2
            low, high = (middle, high) if self.first_of_step[middle] <= at else (low, middle)
        row, step = self.steps[low]
        return Fault(rule, row, step, what)

    @cached_property
    def _homes(self) -> dict[int, tuple[int, int]]:
        """Row and step in which each bead is picked up."""
        return {
            bead: (row.number, number)
            for row in self.path.rows
            for number, step in enumerate(row.steps, start=1)
            for bead in step.picked_up()
        }

    def at_home(self, rule: int, bead: int, what: str) -> Fault:
        """A fault of a bead, placed at the step in which it is picked up."""
        return Fault(rule, *self._homes.get(bead, (0, 0)), what)

    def kind(self, bead: int) -> str:
        """The kind of a bead, "" for one that is not there."""
        found = self.beads.get(bead)
        return found.kind if found else ""

    def named(self, bead: int) -> str:
        """A bead as a message names it: `bead 17 (tile in A)`."""
        found = self.beads.get(bead)
        return f"bead {bead} ({found.kind} in {found.colour})" if found else f"bead {bead}"


def _unrolled(
    ends: list[tuple[float, float, float, float]], around: float
) -> list[tuple[float, float, float, float]]:
    """The passes of a tube in one plane: each as often round as brings it nearest to the last."""
    laid: list[tuple[float, float, float, float]] = []
    out_y = ends[0][1] if ends else 0.0
    for in_x, in_y, out_x, next_y in ends:
        turn = nearer(in_y - out_y, around) - (in_y - out_y)
        out_y = next_y + turn
        laid.append((in_x, in_y + turn, out_x, out_y))
    return laid
