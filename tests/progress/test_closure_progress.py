"""Pieces whose ends are being closed: counted, found again, described, told backwards."""

from itertools import pairwise

import pytest
from outlines import NOON
from sealing import CLOSURES, closed
from weaving import THREAD

from tracker.design.model import ClosureKind
from tracker.pattern.model import Pattern
from tracker.pattern.standing import standing
from tracker.progress.finding import Search, look_alikes, sights
from tracker.progress.left import Counters
from tracker.progress.position import Position
from tracker.progress.state import Length, Progress
from tracker.progress.unpicking import undo_words

every_closure = pytest.mark.parametrize("kind", CLOSURES)


def places(pattern: Pattern) -> list[Position]:
    """Every place of a pattern, its end too."""
    steps = [Position(r, s) for r in range(pattern.row_count) for s in range(pattern.steps_in(r))]
    return [*steps, Position(pattern.row_count, 0)]


def at(place: Position, *measured: Length) -> Progress:
    """The progress of a piece that stands at a place."""
    return Progress(started=NOON, position=place, measured=measured)


@every_closure
def test_counters_at_every_place(kind: ClosureKind) -> None:
    """Length stops growing with the last woven row; beads and rows run down to nothing."""
    pattern = closed(kind, 3, 7).pattern
    counters = Counters(pattern)
    lefts = [counters.at(at(place)) for place in places(pattern)]
    assert {0} == set(lefts[-1].beads.values())
    assert 0 == lefts[-1].rows_left
    assert lefts[-1].finished
    ends = [left for left in lefts if left.row > 7]
    assert ends
    assert all(pytest.approx(pattern.gauge.length(7)) == left.length for left in ends)
    assert all(left.thread > 0 for left in lefts)
    for before, after in pairwise(lefts):
        assert all(after.beads[key] <= n for key, n in before.beads.items())
    tail = [left.thread for left in lefts if left.section == "second end"]
    assert THREAD.tail == tail[0]
    assert sorted(tail, reverse=True) == tail
    assert tail[-1] >= 80


def test_measured_at_the_ends() -> None:
    """A band measured when its ends are begun has its woven rows, and no more."""
    pattern = closed("wire guards", 2, 6).pattern
    late = at(Position(9, 0), Length(9, 18.0))
    soon = at(Position(9, 0), Length(6, 18.0))
    counters = Counters(pattern)
    assert counters.at(soon).length == counters.at(late).length


@every_closure
def test_place_is_found_among_the_ends(kind: ClosureKind) -> None:
    """Truthful answers lead to each place, or to it and those that look the same."""
    seen = sights(closed(kind, 3, 6).pattern)
    alike = {place: group for group in look_alikes(seen) for place in group}
    assert places(closed(kind, 3, 6).pattern) == list(seen)
    for place, sight in seen.items():
        assert 0 <= sight.open <= 6
        search = Search(seen)
        while len(search.candidates) > 1 and (question := search.question()) is not None:
            search = search.answered(question, str(getattr(sight, question.field)))
        assert alike.get(place, (place,)) == search.places()


@every_closure
def test_standing_and_undoing_at_every_place(kind: ClosureKind) -> None:
    """The work is described at every place, and every step can be told backwards."""
    pattern = closed(kind, 2, 5).pattern
    woven_end = pattern.woven_rows
    for place in places(pattern)[1:]:
        thread, open_ = standing(pattern, *place)
        if place.row > woven_end:
            assert "No tile stands open." == open_
        notes = [
            step.note
            for step in pattern.row(min(place.row, pattern.row_count - 1)).steps[: place.step]
        ]
        if "trim" in notes:
            assert "The thread is trimmed." == thread
        elif notes[-1:] == ["tail"]:
            assert "The tail comes out of the smoke seed, at its lower end." == thread
        else:
            assert thread.startswith(("The thread", "The tail"))
    for place in places(pattern)[:-1]:
        assert undo_words(pattern, place)
