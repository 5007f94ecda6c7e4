"""How far each length of thread goes, and after which rows a new one is joined.

A thread is joined only at the end of a row. About 150 mm at each end of a length is lost to
weaving in (common practice); the first length begins with the tail instead.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tracker.design.model import Thread

WEAVING_IN = 150.0
"""Thread lost to weaving in one end, mm."""


@dataclass(frozen=True, slots=True)
class ThreadPlan:
    """`joins` are the rows (from 0) after which a new length is joined."""

    joins: tuple[int, ...]
    needed: float
    """All thread to have ready, mm: in the work, the tail, and what the ends lose."""

    @property
    def lengths(self) -> int:
        """Lengths to cut."""
        return len(self.joins) + 1

    def next_join(self, row: int) -> int | None:
        """The first row, from `row` on, after which there is a join."""
        return next((join for join in self.joins if join >= row), None)

    def lost_at_start(self, row: int, thread: Thread) -> tuple[int, float]:
        """The row at which the length in use in `row` began, and what its first end loses, mm."""
        before = [join for join in self.joins if join < row]
        return (before[-1] + 1, WEAVING_IN) if before else (0, thread.tail)


def plan_thread(before: Sequence[float], thread: Thread) -> ThreadPlan:
    """Plan the joins. `before` is the thread taken up before each row and, last, by all, mm."""
    joins: list[int] = []
    began, lost = 0.0, thread.tail
    for row in range(len(before) - 1):
        if before[row + 1] - began + lost + WEAVING_IN > thread.length and before[row] > began:
            joins.append(row - 1)
            began, lost = before[row], WEAVING_IN
    needed = before[-1] + thread.tail + WEAVING_IN + 2 * WEAVING_IN * len(joins)
    return ThreadPlan(tuple(joins), needed)


def shortest_thread(rows: Sequence[float], thread: Thread) -> float:
    """The shortest length, mm, with which every row can be worked in one.

    The strung row and the return are worked with one length, for nothing holds before the turn.
    """
    start = sum(rows[:2]) + thread.tail + WEAVING_IN
    return max([start, *(row + 2 * WEAVING_IN for row in rows[2:])])
