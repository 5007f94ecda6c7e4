"""A thread that the needle goes under is marked where it lies, in every picture of the move."""

import re

import pytest
from one_hole import a_seed_design

from tracker.path.plane import Mouths
from tracker.pattern.compiler import compile_design
from tracker.pattern.model import Pattern
from tracker.pictures.cells import UNDER, Look, draw, view_for
from tracker.pictures.page import html_page
from tracker.pictures.scene import scene_at
from tracker.pictures.told import told


@pytest.fixture(scope="module")
def brick() -> Pattern:
    """Four beads wide, five rows."""
    return compile_design(a_seed_design("brick stitch", 4, 5)).pattern


def test_a_mark_lies_between_the_two_beads(brick: Pattern) -> None:
    """Half-way between the beads' ends, at the side of the new bead, one for each thread."""
    mouths = Mouths({shape.name: shape for shape in brick.shapes.values()})
    for row in range(1, 5):
        for s, step in enumerate(brick.row(row).steps):
            scene = scene_at(brick, row, s, back=2)
            assert len(step.under) == len(scene.threads)
            for (_, held), (x, y) in zip(step.under, scene.threads, strict=True):
                one, other = (brick.bead(bead) for bead in held)
                _, _, out_x, _ = mouths.ends(one, "", up=True)
                assert pytest.approx(max(out_x, mouths.ends(one, "", up=False)[2])) == x
                assert pytest.approx((one.place.y + other.place.y) / 2, abs=0.01) == y


def test_it_is_seen_and_told(brick: Pattern) -> None:
    """In cells, in the handout's figures and in words."""
    scene = scene_at(brick, 2, 1, back=2)
    view = view_for(40, 16, low=-2.0, high=10.0, focus=scene.focus)
    colours = {colour.letter: colour.hex for colour in brick.colours}
    cells = draw(scene, view, colours, Look())
    assert 1 == sum(cell.text == UNDER for row in cells for cell in row)
    assert any(line.startswith("Under: the thread between the ") for line in told(brick, 2, 1))
    under = sum(len(step.under) for row in (1, 2, 3) for step in brick.row(row).steps)
    assert under <= len(re.findall(f">{UNDER}</text>", html_page(brick)))
