"""What is still to do: rows, length, beads, thread and time, at any place of a piece. Pure."""

from __future__ import annotations

from tracker.path.model import SECOND_END
from tracker.pattern.model import Pattern
from tracker.pattern.thread_plan import ThreadPlan, plan_thread
from tracker.progress.measuring import Belief, Measurement, measured, predicted
from tracker.progress.position import Position
from tracker.progress.state import Length, Progress
from tracker.records import record


@record(kw_only=True)
class Left:
    """The counters at one place. Rows and steps as people count them, from 1; lengths in mm."""

    section: str
    row: int
    rows: int
    step: int
    steps: int
    rows_left: int
    rows_left_range: tuple[int, int]
    length: float
    length_error: float
    """How far off `length` may be, two times in three."""
    target: float
    measured: bool
    """Whether the length goes by measurements of this piece."""
    rows_to_target: int
    """Rows that the target takes from here, by what is known of the length."""
    beads: dict[str, int]
    """Beads still to pick up, by shape's and colour's letter ("tA")."""
    thread: float
    """Thread left of the length on the needle."""
    thread_cut: float
    """The length on the needle as it was cut."""
    join_in_rows: int | None
    """Rows to do before a new length is joined; None if this one lasts."""
    join_due: bool
    """The row before ended with a join, and no new length has been taken down since."""
    minutes: float | None
    """Time left; None while no pace is known."""
    finished: bool

    @property
    def length_left(self) -> float:
        """What is missing from the target."""
        return max(0.0, self.target - self.length)


class Counters:
    """Counts what is left of a pattern; what holds for all places is worked out once."""

    def __init__(self, pattern: Pattern, rule: float = 1.0) -> None:
        self._pattern = pattern
        self._rule = rule
        self._joined: tuple[Length, ...] = ()
        self._plan = plan_thread(pattern.thread_before, pattern.thread)

    def plan(self, joined: tuple[Length, ...]) -> ThreadPlan:
        """Where new lengths of thread are joined, after those that were."""
        if joined != self._joined:
            lengths = {length.rows: length.mm for length in joined}
            before, thread = self._pattern.thread_before, self._pattern.thread
            self._joined, self._plan = joined, plan_thread(before, thread, lengths)
        return self._plan

    def belief(self, lengths: tuple[Length, ...]) -> Belief:
        """What is known of the length after these measurements."""
        return measured(
            predicted(self._pattern.gauge),
            # Once the ends are begun the band is as long as it will be.
            (
                Measurement(min(length.rows, self._pattern.woven_rows), length.mm, self._rule)
                for length in lengths
            ),
        )

    def at(self, progress: Progress) -> Left:
        """The counters at the place of `progress`."""
        pattern, position = self._pattern, progress.position
        rows = pattern.row_count
        finished = position.row >= rows
        row = min(position.row, rows - 1)
        steps = pattern.steps_in(row)
        within = self._within(position)
        done = position.row + within
        # The rows that close the ends make the band no longer.
        woven = min(done, float(pattern.woven_rows))
        belief = self.belief(progress.measured)
        target = pattern.target or belief.length(pattern.woven_rows)
        plan = self.plan(progress.cuts)
        join = None if finished else plan.next_join(position.row)
        pace = progress.seconds_a_row
        return Left(
            section=pattern.section_names[row],
            row=row + 1,
            rows=rows,
            step=steps if finished else position.step + 1,
            steps=steps,
            rows_left=rows - position.row,
            rows_left_range=self._rows_left_range(position.row, belief),
            length=belief.length(woven) if position.row else 0.0,
            length_error=belief.deviation(woven) if position.row else 0.0,
            target=target,
            measured=bool(progress.measured),
            rows_to_target=max(0, belief.rows_for(target) - position.row),
            beads=self._beads(position),
            thread=self._thread(position, within, plan),
            thread_cut=plan.in_use(row).length,
            join_in_rows=None if join is None else join - position.row + 1,
            join_due=self._join_due(progress, plan),
            minutes=None if pace is None else (rows - done) * pace / 60,
            finished=finished,
        )

    def _join_due(self, progress: Progress, plan: ThreadPlan) -> bool:
        row, step = progress.position
        taken_down = any(length.rows == row for length in progress.cuts)
        return step == 0 and row > 0 and row - 1 in plan.joins and not taken_down

    def _within(self, position: Position) -> float:
        """How much of the row in hand is done, by its passes, 0 to 1."""
        if position.row >= self._pattern.row_count or not position.step:
            return 0.0
        # A knot, or whatever goes through no bead, counts like one pass.
        passes = [max(1, len(step.passes)) for step in self._pattern.row(position.row).steps]
        return sum(passes[: position.step]) / sum(passes)

    def _rows_left_range(self, done: int, belief: Belief) -> tuple[int, int]:
        pattern = self._pattern
        if pattern.target is None:
            return (pattern.row_count - done, pattern.row_count - done)
        fewest, most = belief.rows_range(pattern.target)
        woven = min(done, pattern.woven_rows)
        ends = pattern.row_count - done - (pattern.woven_rows - woven)
        return (max(0, fewest - woven) + ends, max(0, most - woven) + ends)

    def _beads(self, position: Position) -> dict[str, int]:
        before = self._pattern.beads_before
        beads = {key: count[-1] - count[position.row] for key, count in before.items()}
        if position.step:
            letters = {shape.name: letter for letter, shape in self._pattern.shapes.items()}
            row = self._pattern.row(position.row)
            for step in row.steps[: position.step]:
                for number in step.picked_up():
                    bead = row.beads[number - row.beads[0].id]
                    if bead.kind != "finding":
                        beads[letters[bead.shape] + bead.colour] -= 1
        return beads

    def _thread(self, position: Position, within: float, plan: ThreadPlan) -> float:
        pattern = self._pattern
        row = min(position.row, pattern.row_count - 1)
        if pattern.section_names[row] == SECOND_END:
            tail = pattern.tail_before
            used = tail[position.row]
            if within:
                used += within * (tail[position.row + 1] - tail[position.row])
            return pattern.thread.tail - used
        before = pattern.thread_before
        cut = plan.in_use(row)
        used = before[position.row]
        if within:
            used += within * (before[position.row + 1] - before[position.row])
        return cut.length - cut.lost - (used - before[cut.row])


def duration(minutes: float) -> str:
    """Minutes as people say them: `25 min`, `3 h 10 min`."""
    hours, rest = divmod(round(minutes), 60)
    return f"{hours} h {rest:02d} min" if hours else f"{rest} min"
