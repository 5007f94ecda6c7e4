"""How far each length of thread goes, worked by hand. About 150 mm is lost at each woven-in end."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from weaving import THREAD, a_design

from tracker.design.model import Thread
from tracker.pattern.compiler import compile_design
from tracker.pattern.thread_plan import Cut, plan_thread, shortest_thread
from tracker.problems import ProblemsError

SHORT = Thread(diameter=0.15, length=1000.0, tail=250.0)


def before(rows: list[float]) -> list[float]:
    """Thread taken up before each row and, last, by all of them."""
    return [sum(rows[:i]) for i in range(len(rows) + 1)]


def test_one_length_is_enough() -> None:
    """Six rows of 100 mm, a tail of 250 and 150 to weave in make exactly one length of 1 m."""
    plan = plan_thread(before([100.0] * 6), SHORT)
    assert (1, (), 1000.0) == (plan.lengths, plan.joins, plan.needed)


def test_joins_by_hand() -> None:
    """The first length works 6 rows of 100 mm; each later one, 1000 - 2 x 150 mm, works 7."""
    plan = plan_thread(before([100.0] * 20), SHORT)
    assert (5, 12) == plan.joins
    assert 3 == plan.lengths
    # In the work, the tail, the last end, and two ends at each join.
    assert 2000.0 + 250.0 + 150.0 + 2 * 300.0 == plan.needed
    assert [5, 5, 12, 12, None] == [plan.next_join(row) for row in (0, 5, 6, 12, 13)]
    assert Cut(0, 1000.0, 250.0) == plan.in_use(5)
    assert Cut(6, 1000.0, 150.0) == plan.in_use(6)
    assert Cut(13, 1000.0, 150.0) == plan.in_use(19)


def test_plan_goes_on_from_the_length_really_joined() -> None:
    """Joined early, before row 5, with 700 mm: that works 4 rows, and later ones 7 each."""
    plan = plan_thread(before([100.0] * 20), SHORT, {4: 700.0})
    assert (3, 7, 14) == plan.joins
    assert Cut(4, 700.0, 150.0) == plan.in_use(7)


def test_join_only_where_it_must_be() -> None:
    """A millimetre more in a row that would just have gone brings the join a row forward."""
    assert (5,) == plan_thread(before([100.0] * 7), SHORT).joins
    assert (4,) == plan_thread(before([100.0] * 5 + [101.0]), SHORT).joins


def test_shortest_thread_by_hand() -> None:
    """The strung row and the return go in one length; so must any later row, with both ends."""
    assert 200.0 + 250.0 + 150.0 == shortest_thread([100.0, 100.0, 100.0], SHORT)
    assert 400.0 + 300.0 == shortest_thread([100.0, 100.0, 400.0], SHORT)


@given(
    st.lists(st.floats(1.0, 400.0), min_size=2, max_size=60),
    st.floats(50.0, 300.0),
    st.floats(0.0, 2000.0),
)
def test_every_length_lasts(rows: list[float], tail: float, more: float) -> None:
    """No length is asked to work more than it can, and none is joined a row too early."""
    thread = Thread(diameter=0.15, length=1.0, tail=tail)
    length = shortest_thread(rows, thread) + more
    thread = Thread(diameter=0.15, length=length, tail=tail)
    plan = plan_thread(before(rows), thread)
    firsts = [0, *(join + 1 for join in plan.joins)]
    lasts = [*plan.joins, len(rows) - 1]
    for first, last in zip(firsts, lasts, strict=True):
        lost = (tail if first == 0 else 150.0) + 150.0
        assert sum(rows[first : last + 1]) + lost <= length + 1e-6
        if last + 1 < len(rows):
            assert sum(rows[first : last + 2]) + lost > length - 1e-6
    # Nothing holds before the turn: the start is worked in one length.
    assert 0 not in plan.joins


def test_thread_too_short_for_its_rows() -> None:
    """A length that does not reach a place for a join is refused with one that does."""
    short = Thread(diameter=0.15, length=400.0, tail=250.0)
    with pytest.raises(ProblemsError) as caught:
        compile_design(a_design(2, 10, thread=short))
    (line,) = caught.value.lines()
    assert line.startswith(": thread.length: 400 mm does not last to a place where a new one")
    assert line.endswith("cut at least 444 mm at a time")
    enough = Thread(diameter=0.15, length=444.0, tail=250.0)
    assert compile_design(a_design(2, 10, thread=enough)).pattern.thread == enough


def test_thread_of_a_band() -> None:
    """A two-column band of 62 rows in lengths of 1.8 m needs just one, and says where it ends."""
    pattern = compile_design(a_design(2, 62)).pattern
    plan = plan_thread(pattern.thread_before, THREAD)
    # About 20.5 mm a row: 62 rows take 1.27 m, and 400 mm are lost at the ends.
    assert 1 == plan.lengths
    assert pytest.approx(62 * 20.5 + 400.0, rel=0.01) == plan.needed
