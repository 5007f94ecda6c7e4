"""Beads on hand, followed from where they were counted; counts checked bead by bead."""

from collections import Counter
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from outlines import NOON, after

from tracker.pattern.model import Pattern
from tracker.pattern.reader import read_pattern
from tracker.progress.position import START, Position
from tracker.progress.state import Lost, Moved, OnHand, Progress, Snapshot, apply
from tracker.progress.stock import (
    picked_up_before,
    shortages,
    stock_words,
    watched,
    whole_stock,
)

PATTERN: Pattern = read_pattern(Path(__file__).parents[2] / "patterns" / "night-watch.pattern.toml")
PLACES = [
    *(Position(r, s) for r in range(PATTERN.row_count) for s in range(PATTERN.steps_in(r))),
    Position(PATTERN.row_count, 0),
]
KINDS = [key for key, _ in PATTERN.kinds()]
places = st.sampled_from(PLACES)


def after_events(*events: Moved | OnHand | Lost | Snapshot) -> Progress:
    """The progress of a new piece after these events."""
    progress = Progress(started=NOON)
    for event in events:
        progress = apply(PATTERN, progress, event)
    return progress


@given(places)
def test_picked_up_before_a_place(place: Position) -> None:
    """Counted pass by pass in the thread path, the beads in the work are the same."""
    counted: Counter[str] = Counter()
    for position in PLACES[: PLACES.index(place)]:
        row = PATTERN.row(position.row)
        for number in row.steps[position.step].picked_up():
            bead = row.beads[number - row.beads[0].id]
            counted[bead.kind[0] + bead.colour] += 1
    assert counted == picked_up_before(PATTERN, place)


@given(places, places, st.integers(0, 400), st.sampled_from(KINDS))
def test_stitching_takes_and_unpicking_gives_back(
    counted_at: Position, now: Position, beads: int, key: str
) -> None:
    """Wherever the piece goes, beads on hand and beads in the work are as many as ever."""
    progress = after_events(
        Moved(NOON, counted_at), OnHand(after(1), key, beads), Moved(after(2), now)
    )
    (kind,) = watched(PATTERN, progress)
    then, here = (picked_up_before(PATTERN, place)[key] for place in (counted_at, now))
    assert max(0, beads + then - here) == kind.on_hand
    assert PATTERN.totals[key] - here == kind.to_go
    assert (kind.reaches_row is None) == (kind.on_hand >= kind.to_go) == (not kind.short)


@given(places, st.integers(0, 200), st.sampled_from(KINDS))
def test_the_row_that_they_reach(now: Position, beads: int, key: str) -> None:
    """To the end of that row they last; to the end of the next they do not."""
    progress = after_events(Moved(NOON, now), OnHand(after(1), key, beads))
    for kind in shortages(PATTERN, progress):
        row = kind.reaches_row
        assert row is not None
        here = picked_up_before(PATTERN, now)[key]
        assert picked_up_before(PATTERN, Position(row, 0))[key] - here <= beads
        assert picked_up_before(PATTERN, Position(row + 1, 0))[key] - here > beads


def test_before_starting() -> None:
    """The lanes MLLM, 68 rows: a tile of each colour a row, so 61 last to the end of row 61."""
    assert [68, 68] == [PATTERN.totals[key] for key in KINDS[:2]]
    progress = after_events(OnHand(NOON, KINDS[0], 61))
    (kind,) = shortages(PATTERN, progress)
    assert (KINDS[0], 61, 68, 7, 61) == (
        kind.key,
        kind.on_hand,
        kind.to_go,
        kind.short,
        kind.reaches_row,
    )


def test_lost_beads_are_gone() -> None:
    """Lost after the count they are taken off, with a slip given back; before it they were not."""
    key = KINDS[0]
    before = after_events(Lost(NOON, key, 5), OnHand(after(1), key, 60))
    assert [60] == [kind.on_hand for kind in watched(PATTERN, before)]
    later = apply(PATTERN, before, Lost(after(2), key, 4))
    later = apply(PATTERN, later, Lost(after(3), key, -1))
    assert [57] == [kind.on_hand for kind in watched(PATTERN, later)]
    other = apply(PATTERN, before, Lost(after(2), KINDS[1], 4))
    assert [60] == [kind.on_hand for kind in watched(PATTERN, other)]


def test_a_new_count_takes_the_place_of_the_old() -> None:
    """Counted again, only what was counted last holds; other kinds stay."""
    first, second = KINDS[:2]
    progress = after_events(
        OnHand(NOON, first, 10), OnHand(NOON, second, 20), OnHand(after(1), first, 30)
    )
    assert {first: 30, second: 20} == {k.key: k.on_hand for k in watched(PATTERN, progress)}


def test_a_kind_that_the_pattern_has_not() -> None:
    """It is kept, and not watched."""
    progress = after_events(OnHand(NOON, "zZ", 10))
    assert () == watched(PATTERN, progress)


@pytest.mark.parametrize("count", [-1, 1_000_001])
def test_counts_that_nobody_has(count: int) -> None:
    """They are refused before they are written."""
    with pytest.raises(ValueError, match="nobody has"):
        after_events(OnHand(NOON, "tA", count))


def test_a_snapshot_with_a_count_from_nowhere() -> None:
    """A count at a place that the pattern has not is refused as such a place is."""
    progress = after_events(OnHand(NOON, KINDS[0], 5))
    broken = progress.on_hand[0]._replace(position=Position(9999, 1))
    with pytest.raises(ValueError, match="the pattern has no row 10000"):
        after_events(Snapshot(NOON, Progress(started=NOON, on_hand=(broken,))))


@given(places, st.integers(0, 400), st.sampled_from(KINDS))
def test_the_stock_of_the_whole_band(now: Position, beads: int, key: str) -> None:
    """What the whole band may have is what is in the work and what is on hand."""
    progress = after_events(Moved(NOON, now), OnHand(after(1), key, beads))
    done, stock = whole_stock(PATTERN, progress)
    assert {key: picked_up_before(PATTERN, now)[key] + beads} == stock
    assert now <= Position(done, 0)
    assert Position(done - 1, 0) < now or now == START


def test_the_words() -> None:
    """What is there and what is to go; how far it reaches where that is not to the end."""
    key = KINDS[0]
    colour = PATTERN.colour(key[1]).name
    total = PATTERN.totals[key]
    enough, few, none = (
        stock_words(PATTERN, watched(PATTERN, after_events(OnHand(NOON, key, n)))[0])
        for n in (total + 3, total - 7, 0)
    )
    assert f"{colour} half tile: {total + 3} on hand, {total} to go" == enough
    assert few.startswith(f"{colour} half tile: {total - 7} on hand, {total} to go: 7 short, they")
    assert none.endswith("they do not last for the first row")
