"""The words of every kind of step, whole sentences, full and short."""

import pytest
from weaving import a_design

from tracker.design.model import Layout
from tracker.path.words import Phrase, counted, listed, phrases, step_sentence
from tracker.pattern.compiler import compile_design
from tracker.pattern.model import Pattern

SENTENCES = {
    "strung": (
        (1, 1),
        "pick up 3 smoke seeds and 1 lagoon tile",
        "3 smoke seeds, 1 lagoon tile",
    ),
    "first turn": (
        (1, 3),
        (
            "turn: pick up 3 smoke seeds; go back through the open hole of the lagoon tile "
            "you just added"
        ),
        "turn: 3 smoke seeds; go back through open hole of lagoon",
    ),
    "return": (
        (2, 1),
        (
            "pick up 1 smoke seed and 1 sand tile; go through all 3 seeds of the group; go through "
            "the open hole of the lagoon tile next on the string"
        ),
        "1 smoke seed, 1 sand tile; 3 seeds; open hole of lagoon",
    ),
    "end of the return": (
        (2, 2),
        "pick up 1 smoke seed and 1 sand tile; go through all 3 seeds of the group",
        "1 smoke seed, 1 sand tile; 3 seeds",
    ),
    "second turn": (
        (2, 3),
        "turn: go back through the open hole of the sand tile you just added",
        "turn: go back through open hole of sand",
    ),
    "up row": (
        (3, 1),
        (
            "pick up 1 smoke seed and 1 lagoon tile; go through the lone seed; pass by the full "
            "lagoon tile behind it; go through the open hole of the sand tile standing out"
        ),
        "1 smoke seed, 1 lagoon tile; lone seed; past the full lagoon tile; open hole of sand",
    ),
    "end of an up row": (
        (3, 2),
        "pick up 1 smoke seed and 1 lagoon tile; go through the lone seed",
        "1 smoke seed, 1 lagoon tile; lone seed",
    ),
    "turn": (
        (3, 3),
        (
            "turn: pick up 2 smoke seeds; go back through the open hole of the lagoon tile "
            "you just added"
        ),
        "turn: 2 smoke seeds; go back through open hole of lagoon",
    ),
    "down row": (
        (4, 1),
        (
            "pick up 1 smoke seed and 1 sand tile; go through the lone seed; pass by the full sand "
            "tile behind it; go through the open hole of the lagoon tile standing out"
        ),
        "1 smoke seed, 1 sand tile; lone seed; past the full sand tile; open hole of lagoon",
    ),
}


@pytest.fixture(scope="module")
def band() -> Pattern:
    """Two columns, the tiles of up rows in lagoon and of down rows in sand."""
    layout = Layout(seeds="S", kind="rows", lines=("A", "B"))
    return compile_design(a_design(2, 6, layout=layout)).pattern


def said(band: Pattern, row: int, step: int, *, full: bool) -> str:
    """A step in words; rows and steps count from 1."""
    woven = band.row(row - 1)
    return step_sentence(band, woven, woven.steps[step - 1], full=full)


@pytest.mark.parametrize(("place", "full", "short"), SENTENCES.values(), ids=SENTENCES)
def test_sentences(band: Pattern, place: tuple[int, int], full: str, short: str) -> None:
    """Each kind of step is told in full for the learner and in short for the practised."""
    assert full == said(band, *place, full=True)
    assert short == said(band, *place, full=False)


def test_moves_in_the_order_of_the_needle(band: Pattern) -> None:
    """The moves of a step name their beads in order, the one to pass by before the hole meant."""
    row = band.row(2)
    seed, tile, lone, out = (p.bead for p in row.steps[0].passes)
    (behind,) = row.steps[0].pass_by
    assert (
        Phrase("pick up", "1 smoke seed and 1 lagoon tile", (seed, tile)),
        Phrase("go through", "the lone seed", (lone,)),
        Phrase("pass by", "the full lagoon tile behind it", (behind,)),
        Phrase("go through", "the open hole of the sand tile standing out", (out,)),
    ) == phrases(band, row, row.steps[0], full=True)


def test_only_the_way_back_goes_back(band: Pattern) -> None:
    """The needle is said to go back in every turn, and nowhere else."""
    for number in range(band.row_count):
        row = band.row(number)
        for step in row.steps:
            back = [part.back for part in phrases(band, row, step, full=True)]
            assert step.turn == any(back)


def test_every_bead_of_a_step_is_spoken_of(band: Pattern) -> None:
    """No pass and no warning of a step is left unsaid, in full or in short."""
    for number in range(band.row_count):
        row = band.row(number)
        for step in row.steps:
            meant = sorted([*(p.bead for p in step.passes), *step.pass_by])
            for full in (True, False):
                parts = phrases(band, row, step, full=full)
                assert meant == sorted(bead for part in parts for bead in part.beads)


def test_tiles_of_two_colours_are_named_apart() -> None:
    """Where column and row differ in colour, each tile is called by its own."""
    layout = Layout(seeds="B", kind="lanes", lines=("AASB",))
    band = compile_design(a_design(2, 4, layout=layout)).pattern
    assert (
        "1 sand seed, 1 lagoon tile; lone seed; past the full lagoon tile; open hole of smoke"
    ) == said(band, 3, 1, full=False)


def test_counting_and_listing() -> None:
    """One seed, two seeds; a, b and c."""
    assert "1 sand seed" == counted(1, "sand", "seed")
    assert "2 sand seeds" == counted(2, "sand", "seed")
    assert "a" == listed(["a"])
    assert "a and b" == listed(["a", "b"])
    assert "a, b and c" == listed(["a", "b", "c"])
