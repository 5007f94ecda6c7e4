"""Find the place on a tube, which has no edges and no lane that is told from the others."""

import re

import pytest
from one_hole import a_seed_design

from tracker.pattern.compiler import compile_design
from tracker.pattern.model import Pattern
from tracker.progress.finding import QUESTIONS, Search, look_alikes, sights
from tracker.progress.position import Position


@pytest.fixture(scope="module")
def tube() -> Pattern:
    """Eight seeds about, ten rounds."""
    return compile_design(a_seed_design("tubular peyote", 8, 10)).pattern


def test_no_question_is_about_edges_or_lanes(tube: Pattern) -> None:
    """Whatever is asked, until no place is left but one, can be seen on a tube."""
    seen = sights(tube)
    for sight in seen.values():
        search = Search(seen, body="seed", tube=True)
        while len(search.candidates) > 1 and (question := search.question()) is not None:
            words = search.words(question)
            assert not re.search(r"edge|lane|upper|lower", words), words
            search = search.answered(question, str(getattr(sight, question.field)))


def test_flat_work_is_asked_as_before() -> None:
    """Of a band the edges are asked."""
    edges = [q for q in QUESTIONS if "edge" in Search({}, body="tile").words(q)]
    assert {"upper", "lower", "lane", "thread_way"} == {q.field for q in edges}


def test_places_are_told_apart(tube: Pattern) -> None:
    """At most two places look alike, one round apart: seeds in the line and in the round tell them.

    In a lane lies a seed of every other row of beads, so the count of its line is good to two rows.
    """
    for group in look_alikes(sights(tube)):
        assert 2 == len(group), group
        assert 1 == abs(group[0].row - group[1].row)


def test_what_is_to_be_seen(tube: Pattern) -> None:
    """In round 4, two seeds on: the last one is the third of its line, the second of its round."""
    sight = sights(tube)[Position(3, 2)]
    assert (3, 2, 0) == (sight.upper, sight.lower, sight.lane)
