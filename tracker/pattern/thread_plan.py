"""How far each length of thread goes, and after which rows a new one is joined.

A thread is joined only at the end of a row. About 150 mm at each end of a length is lost to
weaving in (common practice); the first length begins with the tail instead.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType

from tracker.design.model import Thread
from tracker.records import record

WEAVING_IN = 150.0
"""Thread lost to weaving in one end, mm."""

NO_CUTS: Mapping[int, float] = MappingProxyType({})


@record
class Cut:
    """A length of thread: the row (from 0) it begins with, its length, and what its start loses."""

    row: int
    length: float
    lost: float


@record
class ThreadPlan:
    """The lengths of thread, in the order of use."""

    cuts: tuple[Cut, ...]
    needed: float
    """All thread to have ready, mm: in the work, the tail, and what the ends lose."""

    @property
    def lengths(self) -> int:
        """Lengths to cut."""
        return len(self.cuts)

    @property
    def joins(self) -> tuple[int, ...]:
        """The rows (from 0) after which a new length is joined."""
        return tuple(cut.row - 1 for cut in self.cuts[1:])

    def next_join(self, row: int) -> int | None:
        """The first row, from `row` on, after which there is a join."""
        return next((join for join in self.joins if join >= row), None)

    def in_use(self, row: int) -> Cut:
        """The length that `row` is worked with."""
        return [cut for cut in self.cuts if cut.row <= row][-1]


def plan_thread(
    before: Sequence[float], thread: Thread, joined: Mapping[int, float] = NO_CUTS
) -> ThreadPlan:
    """Plan the lengths. `before` is the thread taken up before each row and, last, by all, mm.

    `joined` are the lengths (mm) that were really joined, by the row they began with; from the
    last of them on the plan goes by what is left, before it nothing is planned any more.
    """
    cuts = [Cut(0, thread.length, thread.tail)]
    last_joined = max(joined, default=-1)
    for row in range(len(before) - 1):
        now = cuts[-1]
        if row in joined:
            new = Cut(row, joined[row], WEAVING_IN if row else thread.tail)
            cuts = [*cuts, new] if row else [new]
        elif row > last_joined and row > now.row:
            used = before[row + 1] - before[now.row] + now.lost + WEAVING_IN
            if used > now.length:
                cuts.append(Cut(row, thread.length, WEAVING_IN))
    ends = 2 * WEAVING_IN * (len(cuts) - 1)
    return ThreadPlan(tuple(cuts), before[-1] + thread.tail + WEAVING_IN + ends)


def shortest_thread(rows: Sequence[float], thread: Thread) -> float:
    """The shortest length, mm, with which every row can be worked in one.

    The strung row and the return are worked with one length, for nothing holds before the turn.
    """
    start = sum(rows[:2]) + thread.tail + WEAVING_IN
    return max([start, *(row + 2 * WEAVING_IN for row in rows[2:])])
