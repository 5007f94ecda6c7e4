import statistics
from collections.abc import Sequence
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from outlines import NOON, Band, after

from tracker.progress.pace import ROWS_KEPT, is_break
from tracker.progress.position import START, By, Position, forward
from tracker.progress.state import (
    ByChanged,
    Closed,
    Event,
    Moved,
    Opened,
    Progress,
    apply,
)

TWO = Band((2,) * 200)


def stitched(gaps: Sequence[float], by: By = "step", progress: Progress | None = None) -> Progress:
    """The progress after moves with these gaps between them, the first from a fresh opening."""
    if progress is None:
        progress = apply(TWO, Progress(started=NOON), Opened(NOON))
    now = progress.last_stitched or NOON
    for gap in gaps:
        now = after((now - NOON).total_seconds() + gap)
        progress = apply(TWO, progress, Moved(now, forward(TWO, progress.position, by)))
    return progress


def told(progress: Progress, *events: Event) -> Progress:
    """The progress after more events."""
    for event in events:
        progress = apply(TWO, progress, event)
    return progress


def test_a_row_takes_from_its_start_to_the_next_rows_start() -> None:
    """Two steps a row: the first row after opening has no known start; then 30 + 50, 40 + 45."""
    assert (80.0, 85.0) == stitched([20, 20, 30, 50, 40, 45]).row_seconds


def test_no_pace_before_three_rows() -> None:
    """Two timed rows are not enough, three are."""
    two = stitched([20, 20, 30, 50, 40, 45])
    three = stitched([20, 20, 30, 50, 40, 45, 60, 60])

    assert two.seconds_a_row is None
    assert 85.0 == three.seconds_a_row


@given(st.lists(st.integers(2, 250), min_size=3, max_size=80))
def test_the_pace_is_the_median_of_the_last_rows(rows: list[int]) -> None:
    """Rows done in one press each, without breaks: the standard library's median of the last."""
    progress = stitched([20, *rows], by="row")

    assert statistics.median(rows[-ROWS_KEPT:]) == progress.seconds_a_row


def test_a_row_with_a_break_is_not_counted_and_the_next_is() -> None:
    """Five minutes and a second is a break; five minutes is not."""
    assert (80.0, 70.0) == stitched([20, 20, 40, 40, 30, 301, 35, 35]).row_seconds
    assert (80.0, 330.0, 70.0) == stitched([20, 20, 40, 40, 30, 300, 35, 35]).row_seconds


def test_slow_rows_are_no_breaks_once_the_hand_is_known() -> None:
    """Ten minutes a row: four times the median of recent gaps is more than five minutes."""
    assert (600.0, 600.0) == stitched([600] * 6, by="row").row_seconds


@pytest.mark.parametrize(
    ("gap", "gaps", "expected"),
    [
        (301, (), True),
        (300, (), False),
        (799, (200, 200, 200), False),
        (801, (200, 200, 200), True),
        (-0.001, (200, 200, 200), True),
        (7 * 86400, (3600,) * 20, True),
    ],
)
def test_what_a_break_is(gap: float, gaps: tuple[float, ...], expected: bool) -> None:
    """Longer than five minutes and than four times the usual gap, or back in time."""
    assert expected == is_break(gap, gaps)


def test_a_week_of_suspend_leaves_the_pace_as_it_was() -> None:
    """The row with the week in it is left out; what follows counts again."""
    before = stitched([20, 20] + [30, 30] * 5)
    progress = stitched([30, 7 * 86400, 30, 30], progress=before)

    assert (60.0,) * 6 == progress.row_seconds
    assert 30.0 == max(progress.timing.gaps)


def test_a_clock_set_back_spoils_one_row_only() -> None:
    """An hour back in the middle of a row: that row does not count, the next does."""
    assert (60.0, 62.0) == stitched([20, 20, 30, 30, 30, -3600, 31, 31]).row_seconds


@pytest.mark.parametrize("put_down", [[Closed(after(101))], [], [Opened(after(102))]])
def test_closing_and_opening_is_a_break(put_down: list[Event]) -> None:
    """The row in hand when the piece was put down, even for seconds, does not count."""
    before = stitched([20, 20, 30, 30])  # at noon + 100 s, at a row's start
    progress = stitched([30, 30, 30, 35], progress=told(before, *put_down))

    assert ((60.0, 65.0) if put_down else (60.0, 60.0, 65.0)) == progress.row_seconds


def test_a_row_jumped_into_is_not_counted() -> None:
    """A jump to another row's start begins no row; the row after it counts."""
    before = stitched([20, 20, 30, 30])
    progress = told(before, Moved(after(110), Position(50, 0)))

    assert (60.0, 70.0) == stitched([35, 35, 35, 35], progress=progress).row_seconds


def test_a_row_done_over_is_not_counted() -> None:
    """Back two rows and forward again: neither row counts twice, nor the one left unfinished."""
    before = stitched([20, 20, 30, 30, 30])  # row 2, step 1; one row timed
    progress = told(before, Moved(after(140), Position(0, 0)))
    again = stitched([40] * 6, progress=progress)
    beyond = stitched([50, 50], progress=again)

    assert Position(3, 0) == again.position
    assert (60.0,) == again.row_seconds
    assert (60.0, 100.0) == beyond.row_seconds


def test_a_slip_to_the_end_and_back_does_not_stop_the_timing() -> None:
    """Only rows really stitched are done over: a jump ahead and back spoils the row in hand."""
    before = stitched([20, 20, 30, 30, 30])
    progress = told(before, Moved(after(132), Position(200, 0)), Moved(after(134), before.position))

    assert (60.0, 61.0) == stitched([30, 30, 31], progress=progress).row_seconds


def test_catching_up_by_key_is_no_stitching() -> None:
    """Rows passed in less than a second a step were stitched before, without the tool."""
    assert () == stitched([20] + [0.4] * 40).row_seconds


def test_by_row_the_gaps_start_anew() -> None:
    """Gaps between steps are no measure for gaps between rows."""
    progress = told(stitched([20] * 10), ByChanged(after(300), "row"))

    assert () == progress.timing.gaps
    assert "row" == progress.by


def test_progress_changes_only_by_apply() -> None:
    """Applying an event leaves the progress that it was applied to as it was."""
    progress = Progress(started=NOON)
    kept = replace(progress)
    moved = apply(TWO, progress, Moved(after(1), Position(0, 1)))

    assert kept == progress
    assert (START, Position(0, 1)) == (progress.position, moved.position)
    assert after(1) == moved.last_stitched


def test_a_place_outside_the_pattern_is_refused() -> None:
    """No event takes a piece where the pattern has nothing."""
    for place in (Position(200, 1), Position(201, 0), Position(-1, 0), Position(0, 2)):
        with pytest.raises(ValueError, match="the pattern has no row"):
            apply(TWO, Progress(started=NOON), Moved(NOON, place))
