"""A thread that the needle goes under is marked where it lies, in every picture of the move."""

import re

import pytest
from one_hole import a_seed_design
from test_rows_by_hand import by_hand

from tracker.beads.catalogue import tiles
from tracker.path.proof.expected import Expected
from tracker.path.proof.threads import under_threads
from tracker.path.proof.trace import Trace
from tracker.pattern.compiler import compile_design
from tracker.pattern.model import Pattern
from tracker.pictures.cells import UNDER, Look, draw
from tracker.pictures.page import html_page
from tracker.pictures.scene import scene_at
from tracker.pictures.told import told
from tracker.pictures.view import view_for


@pytest.fixture(scope="module")
def brick() -> Pattern:
    """Four beads wide, five rows."""
    return compile_design(a_seed_design("brick stitch", 4, 5)).pattern


def test_a_mark_lies_where_the_proof_has_the_thread(brick: Pattern) -> None:
    """Of every move; the proof lays the threads of the whole band, the scene of its rows alone."""
    trace = Trace.of(brick.path())
    due = Expected(tiles=0, seeds=0, passes=b"", longest_span=0.0, under=len(trace.under))
    lines, missing = under_threads(trace, due)
    assert [] == missing
    proved = [((x + to_x) / 2, (y + to_y) / 2) for ((x, y), (to_x, to_y)) in lines.values()]
    shown = [
        middle
        for row in range(brick.row_count)
        for step in range(brick.steps_in(row))
        for middle in scene_at(brick, row, step, back=2).threads
    ]
    assert 4 * 3 == len(proved)
    assert proved == shown


def test_a_thread_between_the_other_holes() -> None:
    """Two tiles are joined by a thread a hole; that one is marked from which the needle comes."""
    told_by_hand = """start up:
  pick up 2 A tiles called base
  turn: pick up 1 S seed, back through hole b of base 2, back through hole b of base 1
row up:
  pick up 1 S seed called top, under base 1 and base 2, back through top
"""
    pattern = compile_design(by_hand(told_by_hand, tile=True)).pattern
    one, other = (pattern.bead(bead).place for bead in (0, 1))
    ((x, y),) = scene_at(pattern, 1, 0, back=2).threads
    # Hole b is half the spacing from the middle, on the side where the next row lies.
    assert pytest.approx(one.x + tiles()["half tile"].hole_spacing / 2) == x
    assert pytest.approx((one.y + other.y) / 2) == y


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
