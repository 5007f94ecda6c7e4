import importlib.util

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.handsfree.listening.phrases import (
    LEAST_APART,
    USUAL,
    apart,
    check,
    distance,
    normal,
    syllables,
)
from tracker.handsfree.listening.recogniser import dictionary_of, model_folder

sounds = st.lists(st.sampled_from("ABC"), max_size=6).map(tuple)
needs_dictionary = pytest.mark.skipif(
    importlib.util.find_spec("pocketsphinx") is None,
    reason="pocketsphinx is not installed (extra: voice)",
)


@pytest.mark.parametrize(
    ("one", "other", "changes"),
    [("kitten", "sitting", 3), ("saturday", "sunday", 3), ("", "abc", 3), ("abc", "abc", 0)],
)
def test_distance_of_the_textbook(one: str, other: str, changes: int) -> None:
    """The edit distances that every textbook on the subject gives (from memory)."""
    assert changes == distance(tuple(one), tuple(other))


@given(sounds, sounds, sounds)
def test_distance_is_a_metric(
    one: tuple[str, ...], other: tuple[str, ...], third: tuple[str, ...]
) -> None:
    """Nought only for the same, the same both ways, and no longer than a way round."""
    assert (one == other) == (distance(one, other) == 0)
    assert distance(one, other) == distance(other, one)
    assert distance(one, other) <= distance(one, third) + distance(third, other)
    assert abs(len(one) - len(other)) <= distance(one, other) <= max(len(one), len(other))


@needs_dictionary
def test_usual_phrases_are_fit_and_far_apart() -> None:
    """The usual phrases pass their own check with room to spare."""
    model = model_folder()
    assert model is not None
    dictionary = dictionary_of(USUAL, model)
    check(USUAL, dictionary)
    phrases = list(USUAL.values())
    assert LEAST_APART + 0.2 < min(
        apart(one, other, dictionary) for one in phrases for other in phrases if one < other
    )


@needs_dictionary
@pytest.mark.parametrize(
    ("phrase", "count"),
    [("go back one", 3), ("how many more", 4), ("stop listening", 4), ("undo last row", 4)],
)
def test_syllables(phrase: str, count: int) -> None:
    """As many as one hears when saying the phrase with care."""
    model = model_folder()
    assert model is not None
    assert count == syllables(phrase, dictionary_of({"x": phrase}, model))


def test_a_phrase_is_looked_up_in_small_letters() -> None:
    """Stops, capitals, wide spaces and a printer's apostrophe make no other phrase."""
    assert "don't go, then".replace(",", "") == normal(" Don\u2019t  go;\tTHEN! ")
