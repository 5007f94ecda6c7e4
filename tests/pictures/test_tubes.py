"""A tube unrolled: lines end at its seam, and nothing speaks of edges that it does not have."""

import math
import re
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from one_hole import a_seed_design

from tracker.path.plane import Point, nearer, unrolled
from tracker.pattern.compiler import compile_design
from tracker.pattern.model import Pattern
from tracker.pattern.standing import standing
from tracker.pictures.cells import Look, draw
from tracker.pictures.figure import draw_scene
from tracker.pictures.page import html_page
from tracker.pictures.scene import scene_at
from tracker.pictures.sheet import Drawing, facts
from tracker.pictures.svg import draw_svg
from tracker.pictures.symbols import Symbols
from tracker.pictures.told import caps, told
from tracker.pictures.view import View
from tracker.reports import summary

POINTS = st.lists(st.tuples(st.floats(-50, 50), st.floats(0, 12)), max_size=9)
EDGES = re.compile(r"edge|upper|lower|wide|width")


@pytest.fixture(scope="module")
def tube() -> Pattern:
    """Eight seeds about, six rounds: 11.2 mm in girth."""
    return compile_design(a_seed_design("tubular peyote", 8, 6)).pattern


def places(pattern: Pattern) -> list[tuple[int, int]]:
    """Every place, and the end."""
    there = [(row, s) for row in range(pattern.row_count) for s in range(pattern.steps_in(row))]
    return [*there, (pattern.row_count, 0)]


def lines_in(svg: str) -> list[list[Point]]:
    """The lines of all paths of an SVG, each as its points."""
    return [
        [(float(x), float(y)) for x, y in (point.split(" ") for point in piece.split("L"))]
        for d in re.findall(r' d="(M[-\d.ML ]+)"', svg)
        for piece in d[1:].split("M")
    ]


def longest_across(lines: list[list[Point]]) -> float:
    """How far the longest stretch of some lines goes across, mm."""
    return max(abs(b[1] - a[1]) for line in lines for a, b in pairwise(line))


@given(points=POINTS)
def test_a_flat_line_stays_in_one_piece(points: list[Point]) -> None:
    """What lies flat is drawn as it is."""
    assert ([tuple(points)] if points else []) == list(unrolled(points, 0.0))


@given(points=POINTS)
def test_a_line_on_a_tube_is_as_long_as_the_shorter_way_round(points: list[Point]) -> None:
    """Its pieces together have the length of its spans round the tube, and no other points."""
    around = 12.0
    pieces = list(unrolled(points, around))
    drawn = sum(math.dist(a, b) for piece in pieces for a, b in pairwise(piece))
    spans = [math.hypot(b[0] - a[0], nearer(b[1] - a[1], around)) for a, b in pairwise(points)]
    assert sum(spans) == pytest.approx(drawn)
    assert all(abs(b[1] - a[1]) <= around / 2 for piece in pieces for a, b in pairwise(piece))
    assert set(points) <= {point for piece in pieces for point in piece}


def test_half_a_span_on_either_side_of_the_seam() -> None:
    """From y = 11 to y = 2 of 12 it goes on to 12.5 and comes in again at 0.5, half-way along."""
    pieces = [((0.0, 11.0), (1.0, 12.5)), ((1.0, 0.5), (2.0, 2.0))]
    assert pieces == list(unrolled([(0.0, 11.0), (2.0, 2.0)], 12.0))


def test_no_line_runs_across_the_whole_tube(tube: Pattern) -> None:
    """In the drawing, the figures and the page no line goes further than a cross does."""
    symbols = Symbols({c.letter: c.hex for c in tube.colours}, letters=False, body=tube.body)
    drawings = [draw_svg(tube, Drawing(thread=True, scales=False))]
    for row, step in places(tube):
        scene = scene_at(tube, row, step, back=9)
        drawings.append(draw_scene(scene, symbols, title="", zoom=1.0))
    for svg in drawings:
        found = [line for line in lines_in(svg) if len(line) > 1]
        assert found
        # The longest are the arms of a cross on a bead to pass by.
        assert longest_across(found) <= 2.1 + 0.05
    flat = compile_design(a_seed_design("flat peyote", 8, 6)).pattern
    assert longest_across(lines_in(draw_svg(flat, Drawing(thread=True, scales=False)))) <= 1.45


def test_the_page_has_no_such_line_either(tube: Pattern) -> None:
    """The booklet's figures are the same."""
    found = [line for line in lines_in(html_page(tube)) if len(line) > 1]
    # Scales and marks of the page are lines of other kinds; none is as long as half the girth.
    assert longest_across(found) < tube.around / 2


def test_the_needle_goes_round_behind_in_the_terminal_too(tube: Pattern) -> None:
    """The move over the seam leaves the middle of the tube free of the needle's way."""
    look = Look()

    def lies(row: int, step: int, which: int) -> float:
        return tube.bead(tube.row(row).steps[step].passes[which].bead).place.y

    row, step = next(
        (row, step)
        for row, step in places(tube)[20:-1]
        if abs(lies(row, step, -1) - lies(row, step, 0)) > tube.around / 2
    )
    scene = scene_at(tube, row, step, back=9)
    view = View(60, 40, 2.6, scene.focus[0] - 8.0, 13.0)
    cells = draw(scene, view, {c.letter: c.hex for c in tube.colours}, look)
    _, top = view.cell((0.0, 8.4))
    _, bottom = view.cell((0.0, 2.8))
    yellow = [
        r
        for r, line in enumerate(cells)
        if any(look.way in (cell.front, cell.back) for cell in line)
    ]
    assert yellow
    assert [] == [r for r in yellow if top < r < bottom]


def test_the_focus_of_a_move_over_the_seam_is_its_end(tube: Pattern) -> None:
    """Not the middle of the tube, where nothing is done."""
    for row, step in places(tube)[:-1]:
        ys = [tube.bead(p.bead).place.y for p in tube.row(row).steps[step].passes]
        _, y = scene_at(tube, row, step, back=3).focus
        assert min(abs(y - there) for there in ys) <= 1.4 / 2 + 0.01


def test_all_beads_are_drawn_within_the_girth(tube: Pattern) -> None:
    """Unrolled, every bead lies once between the two sides of the seam."""
    places_of = [bead.place.y for r in range(tube.row_count) for bead in tube.row(r).beads]
    assert 0.7 == pytest.approx(min(places_of))
    assert tube.around - 0.7 == pytest.approx(max(places_of))


def test_no_words_of_edges(tube: Pattern) -> None:
    """Neither the picture in words nor the standing of the work names an edge, anywhere."""
    for row, step in places(tube):
        for line in (*told(tube, row, step), *standing(tube, row, step), caps(tube, row)):
            assert not EDGES.search(line), line
    flat = compile_design(a_seed_design("flat peyote", 8, 6)).pattern
    assert any(EDGES.search(line) for line in standing(flat, 3, 0))


def test_the_thread_of_a_round_points_on(tube: Pattern) -> None:
    """It comes out of a seed at the end towards which the rounds go."""
    out = "The thread comes out of the sand seed, at the end that points on round the tube."
    assert out == standing(tube, 2, 0)[0]


def test_no_caps_without_tiles() -> None:
    """Seeds that cap an edge are told of bands of tiles only."""
    for name in ("flat peyote", "square stitch", "tubular peyote"):
        pattern = compile_design(a_seed_design(name, 8, 6)).pattern
        assert {""} == {caps(pattern, row) for row in range(pattern.row_count)}


def test_what_is_width_of_a_band_is_girth_of_a_tube(tube: Pattern) -> None:
    """In the summary and in the line under the picture's name."""
    flat = compile_design(a_seed_design("flat peyote", 8, 6)).pattern
    across = [line.split()[0] for line in summary(tube)]
    assert "girth" in across
    assert "width" not in across
    assert "width" in [line.split()[0] for line in summary(flat)]
    assert "11 mm in girth, unrolled" in facts(tube)
    assert "11 mm wide" in facts(flat)
