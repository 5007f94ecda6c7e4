"""Which colours of a design are noted as hard to tell apart, and the shades offered."""

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.colours.difference import difference, lab_of
from tracker.colours.vision import VISIONS, seen
from tracker.colours.warnings import APART, alike, separable
from tracker.design.model import Colour

SAND = Colour("C", "sand", "#e8dcc0")

hexes = st.integers(0, 0xFFFFFF).map(lambda value: f"#{value:06x}")


def least(one: str, other: str) -> float:
    """How far apart two colours are to the eyes that see it worst."""
    return min(difference(one, other), *(difference(seen(one, v), seen(other, v)) for v in VISIONS))


def test_colours_far_apart_need_no_note() -> None:
    """Dark blue, pale yellow and mid red differ for everybody."""
    far = [Colour("A", "a", "#10204f"), Colour("B", "b", "#fbf3b0"), Colour("C", "c", "#c0392b")]
    assert () == alike(far)


def test_what_some_eyes_confuse_is_said_to_be_theirs() -> None:
    """A green and a brown that differ for most are noted for eyes that see little green."""
    (note,) = alike([Colour("A", "olive", "#7f8f2f"), Colour("B", "rust", "#b3762a"), SAND])
    assert "colours.A and colours.B" == note.where
    assert "for all eyes" not in note.what
    assert "eyes that see little green" in note.what


def test_what_all_eyes_confuse_is_said_once() -> None:
    """Two creams are noted for all eyes, with a shade that is not like any."""
    (note,) = alike([SAND, Colour("D", "cream", "#ece0c6")])
    assert "sand and cream are hard to tell apart for all eyes" == note.what
    assert "cream would stand apart (#" in note.mend


def test_where_no_shade_helps_the_letters_do() -> None:
    """Among greys on every step no lightness is left: the note says to go by the letters."""
    steps = [f"#{grey:02x}{grey:02x}{grey:02x}" for grey in range(0, 256, 24)]
    assert separable("#808080", steps) is None
    rest = [Colour("CDEFGHIJKLM"[i], f"step {i}", step) for i, step in enumerate(steps)]
    first, *_ = alike([Colour("A", "slate", "#848484"), Colour("B", "grey", "#808080"), *rest])
    assert "slate and grey are hard to tell apart for all eyes" == first.what
    assert "go by the letters, or choose another colour than grey" == first.mend


@settings(max_examples=25)
@given(st.lists(hexes, min_size=2, max_size=4, unique=True))
def test_notes_are_just_those_that_the_figures_call_for(found: list[str]) -> None:
    """A pair is noted when, and only when, some eyes see it less than 10 apart."""
    colours = [Colour("ABCD"[i], f"c{i}", value) for i, value in enumerate(found)]
    noted = {note.where for note in alike(colours)}
    called_for = {
        f"colours.{one.letter} and colours.{other.letter}"
        for one, other in combinations(colours, 2)
        if least(one.hex, other.hex) < APART
    }
    assert called_for == noted


@settings(max_examples=25)
@given(hexes, st.lists(hexes, min_size=1, max_size=3))
def test_a_shade_stands_apart_from_all(colour: str, others: list[str]) -> None:
    """The shade offered is told apart from every other colour by all eyes."""
    shade = separable(colour, others)
    if shade is not None:
        assert min(least(shade, other) for other in others) >= APART


@pytest.mark.parametrize(("colour", "other"), [("#808080", "#7a7a7a"), ("#20243a", "#262a40")])
def test_the_nearest_shade_is_offered(colour: str, other: str) -> None:
    """No lightness nearer to the colour's own would do."""
    shade = separable(colour, [other])
    assert shade is not None
    moved = abs(lab_of(shade).lightness - lab_of(colour).lightness)
    assert 5 < moved < 20
    assert (
        separable(colour, ["#ffffff" if lab_of(colour).lightness < 50 else "#000000"]) is not None
    )
