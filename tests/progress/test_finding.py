"""Find my place: truthful answers lead to the very step, in few questions."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from tracker.pattern.model import Pattern
from tracker.pattern.reader import read_pattern
from tracker.progress.finding import QUESTIONS, Search, Sight, look_alikes, sights
from tracker.progress.position import Position

PATTERNS = Path(__file__).parents[2] / "patterns"
DEMOS = ("night-watch", "signal-fires", "star-chart")


def demo(name: str) -> Pattern:
    """A demo pattern."""
    return read_pattern(PATTERNS / f"{name}.pattern.toml")


def answered_truthfully(search: Search, sight: Sight) -> tuple[Search, int]:
    """The search after truthful answers, and how many there were."""
    asked = 0
    while len(search.candidates) > 1 and (question := search.question()) is not None:
        search = search.answered(question, str(getattr(sight, question.field)))
        asked += 1
    return search, asked


@pytest.mark.parametrize("name", DEMOS)
def test_truthful_answers_find_every_step_or_its_look_alikes(name: str) -> None:
    """From each place the answers lead to it, or to it and the places that look the same."""
    seen = sights(demo(name))
    alike = {place: group for group in look_alikes(seen) for place in group}
    asked_in_all = 0
    for place, sight in seen.items():
        search, asked = answered_truthfully(Search(seen), sight)
        assert search.places() == alike.get(place, (place,))
        asked_in_all += asked
    # The bound of yes-and-no questions; ours have more answers and should need no more.
    assert asked_in_all / len(seen) <= math.log2(len(seen)) + 1


@pytest.mark.parametrize("name", DEMOS)
def test_every_place_is_a_candidate(name: str) -> None:
    """Each step of the pattern and its end can be found."""
    pattern = demo(name)
    steps = sum(pattern.steps_in(row) for row in range(pattern.row_count))
    assert steps + 1 == len(sights(pattern))


def test_the_first_question_tells_most() -> None:
    """The question asked first has the largest entropy of all, computed here by hand."""
    seen = sights(demo("night-watch"))
    search = Search(seen)

    def entropy(field: str) -> float:
        values = [getattr(sight, field) for sight in seen.values()]
        shares = [values.count(value) / len(values) for value in set(values)]
        return sum(share * math.log2(1 / share) for share in shares)

    first = search.question()
    assert first is not None
    assert max(entropy(q.field) for q in QUESTIONS) == pytest.approx(entropy(first.field))


def test_do_not_know_rules_nothing_out_and_is_not_asked_again() -> None:
    """With every answer unknown the search ends with all places, each question put once."""
    search = Search(sights(demo("night-watch")))
    everything, asked = search.places(), 0
    while (question := search.question()) is not None:
        search = search.answered(question, None)
        asked += 1
    assert everything == search.places()
    assert len(QUESTIONS) == asked


def test_one_unknown_answer_still_finds_the_place() -> None:
    """Without the question that tells most the others still lead there."""
    seen = sights(demo("star-chart"))
    place = Position(20, 3)
    search = Search(seen)
    first = search.question()
    assert first is not None
    search = search.answered(first, None)
    found, _ = answered_truthfully(search, seen[place])
    assert place in found.places()
    assert len(found.places()) < 10


def test_what_is_seen_before_row_5_of_a_two_column_band() -> None:
    """The sight before row 5, counted by hand from the way the band is woven."""
    # Rows 1 and 3 put a tile in lanes 2 and 4 each, rows 2 and 4 in lanes 3 and 1; row 4 has
    # turned at the lower edge: its tile of column 2 stands open, thread upwards out of lane 1.
    sight = sights(demo("night-watch"))[Position(4, 0)]
    expected = Sight(
        upper=2,
        lower=2,
        open=1,
        lane=1,
        last_colour="midnight",
        thread_kind="tile",
        thread_colour="midnight",
        thread_way="upper",
    )
    assert expected == sight
