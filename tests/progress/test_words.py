from dataclasses import replace
from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st
from outlines import NOON, after

from tracker.progress import words
from tracker.progress.pace import Timing
from tracker.progress.position import Position
from tracker.progress.state import (
    ByChanged,
    Closed,
    Count,
    Event,
    Moved,
    OnHand,
    Opened,
    Progress,
    Snapshot,
    to_milliseconds,
)

ROWS = 62
times = st.datetimes(datetime(1970, 1, 1), datetime(2999, 1, 1), timezones=st.just(UTC)).map(  # noqa: DTZ001  (hypothesis wants bounds without a zone)
    to_milliseconds
)
places = st.one_of(
    st.builds(Position, st.integers(0, ROWS - 1), st.integers(0, 300)),
    st.just(Position(ROWS, 0)),
)
seconds = st.floats(0, 1e6).map(lambda number: round(number, 3))
series = st.lists(seconds, max_size=6).map(tuple)
modes = st.sampled_from(["step", "row"])
timings = st.builds(
    Timing,
    row_seconds=series,
    gaps=series,
    last_move=st.none() | times,
    row_started=st.none() | times,
    furthest=places,
)
keys = st.from_regex(r"[a-z][A-Z]", fullmatch=True)
beads = st.integers(0, 1_000_000)
wholes = st.builds(
    Progress,
    started=times,
    position=places,
    last_stitched=st.none() | times,
    by=modes,
    on_hand=st.lists(st.builds(Count, keys, beads, places), max_size=3).map(tuple),
    timing=timings,
)
events: st.SearchStrategy[Event] = st.one_of(
    st.builds(Moved, times, places),
    st.builds(Opened, times),
    st.builds(Closed, times),
    st.builds(ByChanged, times, modes),
    st.builds(OnHand, times, keys, beads),
    st.builds(Snapshot, times, wholes),
)


@given(events)
def test_an_event_reads_back_as_it_was(event: Event) -> None:
    """Written and read again, any event is the same, to the last digit."""
    assert event == words.read(words.written(event, ROWS), ROWS)


@given(events)
def test_an_event_is_plain_text_in_one_line(event: Event) -> None:
    """What is written needs no escapes in a TOML string."""
    text = words.written(event, ROWS)

    assert text.isascii()
    assert text.isprintable()
    assert not set('"\\') & set(text)


def test_the_words_of_the_events() -> None:
    """Rows and steps are counted from 1, as they are shown; the end is called so."""
    assert "2026-11-25T12:00:00.000Z at row 3 step 2" == words.written(
        Moved(NOON, Position(2, 1)), ROWS
    )
    assert "2026-11-25T12:00:01.500Z at the end" == words.written(
        Moved(after(1.5), Position(ROWS, 0)), ROWS
    )
    assert "2026-11-25T12:00:00.000Z by row" == words.written(ByChanged(NOON, "row"), ROWS)
    assert "2026-11-25T12:00:00.000Z counted 61 tA" == words.written(OnHand(NOON, "tA", 61), ROWS)


def test_a_snapshot_tells_of_counted_beads_only_where_there_are_some() -> None:
    """Journals without them read as they always did, and are written so."""
    progress = Progress(started=NOON)
    assert "counted" not in words.written(Snapshot(NOON, progress), ROWS)
    counted = (Count("sS", 40, Position(0, 0)), Count("tA", 61, Position(2, 1)))
    said = words.written(Snapshot(NOON, replace(progress, on_hand=counted)), ROWS)
    assert "; counted: 40 sS at row 1 step 1, 61 tA at row 3 step 2; " in said


@pytest.mark.parametrize(
    "text",
    [
        "2026-11-25T12:00:00.000Z at row 0 step 1x",
        "2026-11-25T12:00:00.000Z at row 03 step 1",
        "2026-11-25T12:00:00.000Z at",
        "2026-11-25T12:00:00Z at row 3 step 1",
        "2026-11-25T12:00:00.000+00:00 at row 3 step 1",
        "2026-02-30T12:00:00.000Z opened",
        "2026-11-25T12:00:00.000Z opened twice",
        "2026-11-25T12:00:00.000Z by hand",
        "2026-11-25T12:00:00.000Z counted",
        "2026-11-25T12:00:00.000Z counted 061 tA",
        "2026-11-25T12:00:00.000Z counted -1 tA",
        "2026-11-25T12:00:00.000Z counted 61 teal",
        "2026-11-25T12:00:00.000Z snapshot started: never",
        "2026-11-25T12:00:00.000Z snapshot",
        "soon opened",
        "2026-11-25T12:00:00.000Z snapshot started",
    ],
)
def test_words_that_tell_of_no_event_are_refused(text: str) -> None:
    """Near misses are refused, not guessed at."""
    with pytest.raises(
        ValueError, match=r"^(not?|neither) |day is out of range|update sequence"
    ) as caught:
        words.read(text, ROWS)
    assert not isinstance(caught.value, words.UnknownWordError)


def test_numbers_that_are_none_are_refused() -> None:
    """A snapshot whose times are 'nan' or 'inf' would spoil every pace after it."""
    good = words.written(
        Snapshot(NOON, Progress(started=NOON, timing=Timing(row_seconds=(60.0,)))), ROWS
    )
    assert "row seconds: 60.000" in good
    for number in ("nan", "inf", "-1.000", "6e1"):
        with pytest.raises(
            ValueError, match=r"^(not?|neither) |day is out of range|update sequence"
        ):
            words.read(good.replace("60.000", number), ROWS)


@pytest.mark.parametrize("text", ["2026-11-25T12:00:00.000Z painted 52 mm at row 20", "", "x"])
def test_an_unknown_word_is_named(text: str) -> None:
    """The first word decides which event it is; one that is not known is said."""
    with pytest.raises(words.UnknownWordError):
        words.read(text, ROWS)


def test_a_time_without_its_zone_is_refused() -> None:
    """Nobody knows when noon is if nobody says where."""
    with pytest.raises(ValueError, match="zone"):
        to_milliseconds(datetime(2026, 11, 25, 12, 0))  # noqa: DTZ001  (that is what is refused)
