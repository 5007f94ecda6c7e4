"""A chart painted cell by cell, against a plain grid of letters."""

from hypothesis import given
from hypothesis import strategies as st

from tracker.design.painting import (
    MOST_RANKS,
    Painting,
    begun,
    delete_rank,
    fitted,
    insert_rank,
    move,
    paint,
    undo,
)

changes = st.lists(
    st.one_of(
        st.tuples(st.just("paint"), st.sampled_from("ABC")),
        st.tuples(st.just("move"), st.tuples(st.integers(-3, 3), st.integers(-3, 3))),
        st.just(("insert", None)),
        st.just(("delete", None)),
    ),
    max_size=30,
)


@given(changes)
def test_painting_is_painting(done: list[tuple[str, object]]) -> None:
    """A grid of lists, changed in the plain way, says the same after any changes."""
    painting = begun(("ABBA", "BAAB"), 4, "ABC", "A")
    grid, rank, lane = [list("ABBA"), list("BAAB")], 0, 0
    for what, value in done:
        if what == "paint":
            painting = paint(painting, str(value))
            grid[rank][lane] = str(value)
        elif what == "move":
            assert isinstance(value, tuple)
            painting = move(painting, *value)
            rank = max(0, min(len(grid) - 1, rank + value[0]))
            lane = max(0, min(3, lane + value[1]))
        elif what == "insert":
            painting = insert_rank(painting)
            grid.insert(rank, list(grid[rank]))
            rank += 1
        elif len(grid) > 1:
            painting = delete_rank(painting)
            del grid[rank]
            rank = min(rank, len(grid) - 1)
        else:
            painting = delete_rank(painting)
        assert tuple("".join(line) for line in grid) == painting.lines
        assert (rank, lane) == (painting.rank, painting.lane)


@given(changes)
def test_undoing_all_leads_back(done: list[tuple[str, object]]) -> None:
    """Undone as often as there were changes, the chart is the first one; more does nothing."""
    painting = begun(("ABBA",), 4, "ABC", "A")
    for what, value in done:
        if what == "paint":
            painting = paint(painting, str(value))
        elif what == "move" and isinstance(value, tuple):
            painting = move(painting, *value)
        elif what == "insert":
            painting = insert_rank(painting)
        else:
            painting = delete_rank(painting)
    for _ in range(len(painting.past) + 1):
        painting = undo(painting)
    assert ("ABBA",) == painting.lines
    assert () == painting.past


def test_no_more_ranks_than_a_design_may_have() -> None:
    """At the limit no rank comes to it."""
    full = Painting(lines=("AB",) * MOST_RANKS, letter="A")

    assert full == insert_rank(full)


@given(st.text("ABC", min_size=1, max_size=12), st.integers(1, 12))
def test_a_line_is_fitted_at_its_middle(line: str, lanes: int) -> None:
    """It has the width that was asked for; both edges are as they were, and so is symmetry."""
    new = fitted(line, lanes)

    assert lanes == len(new)
    if lanes > 1 and len(line) > 1:
        assert (line[0], line[-1]) == (new[0], new[-1])
    if lanes >= len(line):
        assert line == fitted(new, len(line)) or len(line) % 2
    if line == line[::-1] and len(line) % 2 == lanes % 2 == 0:
        assert new == new[::-1]


def test_letters_without_a_colour_give_way() -> None:
    """A painting begins with the colours that there are, and with two ranks where there is none."""
    assert ("AABA",) == begun(("AXBA",), 4, "AB", "A").lines
    assert ("SSSS", "SSSS") == begun((), 4, "ABS", "S").lines
