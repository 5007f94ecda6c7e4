from hypothesis import given
from hypothesis import strategies as st
from outlines import BAND, Band, bands, bands_with_place

from tracker.progress.position import (
    START,
    By,
    Position,
    back,
    clamped,
    end,
    exists,
    forward,
    start_of_row,
)

either: st.SearchStrategy[By] = st.sampled_from(["step", "row"])


@given(bands)
def test_stepping_forward_visits_every_step_once_in_order(band: Band) -> None:
    """Step by step from the start, every place comes once, and then the end."""
    visited = [START]
    while visited[-1] != end(band):
        visited.append(forward(band, visited[-1], "step"))
    every = [Position(row, step) for row, steps in enumerate(band.steps) for step in range(steps)]

    assert [*every, Position(len(band.steps), 0)] == visited


@given(bands_with_place())
def test_back_undoes_forward(case: tuple[Band, Position]) -> None:
    """One step forward and one back is the same place, unless the piece was finished."""
    band, place = case
    there = forward(band, place, "step")

    assert (there if place == end(band) else place) == (
        there if there == place else back(band, there, "step")
    )


@given(bands_with_place())
def test_back_a_row_undoes_forward_a_row_to_its_start(case: tuple[Band, Position]) -> None:
    """A row forward and a row back is the start of the row in hand."""
    band, place = case
    if place != end(band):
        assert Position(place.row, 0) == back(band, forward(band, place, "row"), "row")


@given(bands_with_place(), st.lists(st.tuples(st.booleans(), either), max_size=40))
def test_no_walk_leaves_the_pattern(
    case: tuple[Band, Position], walk: list[tuple[bool, By]]
) -> None:
    """Whatever is pressed, the place is one that the pattern has."""
    band, place = case
    for ahead, by in walk:
        place = (forward if ahead else back)(band, place, by)
        assert exists(band, place)


@given(bands, st.integers(-3, 15), st.integers(-3, 15))
def test_clamped_gives_a_place_and_leaves_a_good_one_alone(band: Band, row: int, step: int) -> None:
    """Any numbers come to a place that exists; a place that exists is not moved."""
    asked = Position(row, step)
    given_ = clamped(band, asked)

    assert exists(band, given_)
    assert not exists(band, asked) or given_ == asked


def test_the_ends_stop_the_walk() -> None:
    """At the end forward stays, at the start back stays."""
    assert end(BAND) == forward(BAND, end(BAND), "step") == forward(BAND, end(BAND), "row")
    assert START == back(BAND, START, "step") == back(BAND, START, "row")


def test_back_a_row_goes_to_this_rows_start_first() -> None:
    """Inside a row: its start; at its start: the start of the row before."""
    assert Position(1, 0) == back(BAND, Position(1, 2), "row")
    assert Position(0, 0) == back(BAND, Position(1, 0), "row")
    assert Position(5, 0) == back(BAND, end(BAND), "row")


def test_start_of_row_beyond_the_pattern_is_its_end() -> None:
    """A row that the pattern has not is the nearest place."""
    assert Position(2, 0) == start_of_row(BAND, 2)
    assert end(BAND) == start_of_row(BAND, 99)
    assert START == start_of_row(BAND, -1)
