"""Rows that differ in their numbers alone are looked into once: with the same result."""

import re
from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sealing import closed, compiled

from tracker.pattern.model import Pattern
from tracker.pattern.notation import LINE, REFERENCES, figures_of, forms_of

PIECES = [
    pytest.param(compiled(2, 9).pattern, id="2 columns"),
    pytest.param(compiled(5, 40).pattern, id="5 columns"),
    pytest.param(closed("bead loops", 3, 12).pattern, id="bead loops"),
    pytest.param(closed("wire guards", 2, 12).pattern, id="wire guards"),
]
SLIPS = st.text("0189abAS!~<|: .\N{ARABIC-INDIC DIGIT THREE}", max_size=9)


@given(
    st.sampled_from(compiled(2, 9).pattern.lines),
    st.lists(st.tuples(st.integers(0, 60), SLIPS), max_size=3),
)
def test_a_form_is_judged_as_its_row(line: str, slips: list[tuple[int, str]]) -> None:
    """Whatever is done to a row, it is one exactly if its form is."""
    for at, text in slips:
        line = line[:at] + text + line[at + 1 :]
    assert (LINE.fullmatch(line) is None) == (LINE.fullmatch(forms_of((line,))[0]) is None)


@given(st.lists(st.text("0189aS.\N{ARABIC-INDIC DIGIT THREE}\N{GREEK SMALL LETTER ALPHA}")))
def test_every_line_has_its_form(lines: list[str]) -> None:
    """Each line's own form, in the order of the lines; those that are equal are the same."""
    forms = forms_of(lines)
    assert [re.sub("[1-9]", "0", line) for line in lines] == list(forms)
    assert len(set(forms)) == len(set(map(id, forms)))


@pytest.mark.parametrize("pattern", PIECES)
def test_rows_share_forms_and_no_counts(pattern: Pattern) -> None:
    """What is counted of the lines is what the decoded rows hold."""
    letters = {shape.name: letter for letter, shape in pattern.shapes.items()}
    before: Counter[str] = Counter()
    for number in range(pattern.row_count):
        row = pattern.row(number)
        beads = Counter(letters[b.shape] + b.colour for b in row.beads if b.kind != "finding")
        assert beads == pattern.picked_up[number]
        assert {k: before[k] for k in pattern.totals} == {
            key: counts[number] for key, counts in pattern.beads_before.items()
        }
        before += beads
        head, _, moves = pattern.lines[number].partition(": ")
        figures = list(map(int, list(figures_of(pattern.lines))[number].split()))
        assert list(map(int, re.findall(r"\d+", moves))) == figures[REFERENCES:]
        assert list(map(int, re.findall(r"\d+", head))) == figures[:REFERENCES]
        tiles = [(b.place.y, b.colour) for b in row.beads if b.kind == "tile"]
        assert tiles == pattern.across(number)
    assert before == pattern.totals


def test_few_forms_for_many_rows() -> None:
    """A long striped band has few forms, or nothing would be gained."""
    forms = compiled(2, 400).pattern.forms
    assert len(forms) > 10 * len(set(forms))
