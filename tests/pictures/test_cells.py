"""The work in the cells of a terminal: what must be read there, in colour and without."""

import unicodedata
from collections.abc import Iterator

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sealing import compiled

from tracker.colours.srgb import luminance
from tracker.pattern.model import Pattern
from tracker.pictures.cells import Cell, Look, draw, faded
from tracker.pictures.outlines import hole_centre
from tracker.pictures.scene import Scene, scene_at
from tracker.pictures.view import LEAST_SCALE, MOST_SCALE, View, view_for

SIZES = [(50, 12), (58, 14), (140, 40)]
CAPS = 1.2
"""Room for the caps at the edges of the band, mm."""


def view_of(pattern: Pattern, scene: Scene, row: int, size: tuple[int, int]) -> View:
    """A view that moves on row by row, as a beader sees it."""
    ys = [b.place.y for r in (0, 1) for b in pattern.row(r).beads if b.kind == "tile"]
    middle, half = (min(ys) + max(ys)) / 2, pattern.gauge.width / 2 + CAPS
    x = pattern.row(min(row, pattern.row_count - 1)).origin
    return view_for(*size, low=middle - half, high=middle + half, focus=(x, scene.focus[1]))


def picture(
    pattern: Pattern, row: int, step: int, size: tuple[int, int], *, mono: bool = False
) -> tuple[Scene, View, list[list[Cell]]]:
    """A scene, how it is viewed, and its cells."""
    scene = scene_at(pattern, row, step, back=12)
    view = view_of(pattern, scene, row, size)
    colours = {colour.letter: colour.hex for colour in pattern.colours}
    return scene, view, draw(scene, view, colours, Look(mono=mono))


def pictures(
    columns: int, rows: int, size: tuple[int, int], *, mono: bool = False
) -> Iterator[tuple[Scene, View, list[list[Cell]]]]:
    """Every move of a band."""
    pattern = compiled(columns, rows).pattern
    for row in range(rows):
        for step in range(pattern.steps_in(row)):
            yield picture(pattern, row, step, size, mono=mono)


def inside(view: View, cell: tuple[int, int]) -> bool:
    """Whether a cell is on the screen."""
    return 0 <= cell[0] < view.width and 0 <= cell[1] < view.height


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("columns", [2, 5, 12])
def test_targets_are_always_in_view_with_their_numbers(columns: int, size: tuple[int, int]) -> None:
    """Each hole to go through is on the screen, and its number stands in it."""
    seen = 0
    for scene, view, cells in pictures(columns, 5, size):
        for target in scene.targets:
            column, row = view.cell(target.centre)
            assert inside(view, (column, row))
            assert str(target.order) == cells[row][column].text
            seen += 1
    # Two a step, but for the last column and the turn; none when a band is strung.
    assert 1 + 4 * 2 * columns == seen


@pytest.mark.parametrize("mono", [False, True])
@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("columns", [2, 5])
def test_every_tile_bears_its_letter(columns: int, size: tuple[int, int], mono: bool) -> None:
    """Every tile on the screen can be read by its letter, the one to pass by by its cross."""
    for scene, view, cells in pictures(columns, 6, size, mono=mono):
        for drawn in scene.beads:
            column, row = view.cell((drawn.bead.place.x, drawn.bead.place.y))
            if drawn.bead.kind == "tile" and inside(view, (column, row)):
                crossed = drawn.bead.id in scene.pass_by
                assert ("\u2573" if crossed else drawn.bead.colour) == cells[row][column].text


@pytest.mark.parametrize("size", SIZES)
def test_open_holes_are_marked(size: tuple[int, int]) -> None:
    """A hole that stands open in the finished work is a circle, and nothing else is."""
    scene, view, cells = picture(compiled(3, 9).pattern, 9, 0, size)
    assert () == scene.targets
    standing_out = [d for d in scene.beads if d.bead.kind == "tile" and "b" not in d.filled]
    assert 2 == len(standing_out)
    middles = {view.cell(hole_centre(drawn, "b")) for drawn in standing_out}
    circles = {
        (x, y) for y, line in enumerate(cells) for x, cell in enumerate(line) if cell.text == "○"
    }
    assert circles
    assert {cell for cell in middles if inside(view, cell)} == circles


@pytest.mark.parametrize("size", [*SIZES, (1, 1), (3, 40), (200, 2)])
def test_picture_fills_its_cells(size: tuple[int, int]) -> None:
    """A picture has as many cells as it was asked for, each of one narrow character."""
    for mono in (False, True):
        for _, _, cells in pictures(2, 4, size, mono=mono):
            assert [size[0]] * size[1] == [len(line) for line in cells]
            for cell in (cell for line in cells for cell in line):
                assert 1 == len(cell.text)
                assert cell.text.isprintable()
                assert unicodedata.east_asian_width(cell.text) not in "WF"


@pytest.mark.parametrize("size", SIZES)
def test_without_colours(size: tuple[int, int]) -> None:
    """Without colours no cell has one, and what matters is told by characters and reversal."""
    reversed_cells = 0
    for scene, view, cells in pictures(2, 6, size, mono=True):
        assert {("", "")} == {(cell.front, cell.back) for line in cells for cell in line}
        for target in scene.targets:
            column, row = view.cell(target.centre)
            assert cells[row][column].reverse
            reversed_cells += 1
    assert reversed_cells


def test_with_colours() -> None:
    """With colours every cell has a ground, and letters stand out from their tile."""
    pattern = compiled(2, 6).pattern
    scene, view, cells = picture(pattern, 4, 0, (58, 14))
    assert all(cell.back for line in cells for cell in line)
    letters = 0
    for drawn in scene.beads:
        column, row = view.cell((drawn.bead.place.x, drawn.bead.place.y))
        plain = drawn.bead.id not in scene.pass_by and drawn.bead.kind == "tile"
        if plain and inside(view, (column, row)):
            cell = cells[row][column]
            assert pattern.colour(drawn.bead.colour).hex == cell.back
            dark, light = sorted((luminance(cell.front), luminance(cell.back)))
            # WCAG 2.2, 1.4.3: text of normal size has a contrast of 4.5 to 1.
            assert (light + 0.05) / (dark + 0.05) >= 4.5
            letters += 1
    assert letters >= 6


@pytest.mark.parametrize(("columns", "size"), [(12, (58, 14)), (2, (50, 12)), (40, (50, 12))])
def test_focus_stays_in_view(columns: int, size: tuple[int, int]) -> None:
    """Of a band wider than the screen the part round the move is shown."""
    for scene, view, _ in pictures(columns, 3, size):
        assert inside(view, view.cell(scene.focus))


@given(
    st.integers(1, 300),
    st.integers(1, 100),
    st.tuples(st.floats(-500.0, 500.0), st.floats(1.0, 300.0)),
    st.tuples(st.floats(-1000.0, 1000.0), st.floats(0.0, 1.0)),
)
def test_any_view(
    width: int, height: int, band: tuple[float, float], place: tuple[float, float]
) -> None:
    """The scale keeps its bounds; a band that fits is shown whole, else the focus is inside."""
    (low, wide), (x, share) = band, place
    focus = (x, low + share * wide)
    view = view_for(width, height, low=low, high=low + wide, focus=focus)
    assert LEAST_SCALE <= view.scale <= MOST_SCALE
    top, bottom = view.top, view.top - height / view.scale
    assert bottom - 1e-6 <= focus[1] <= top + 1e-6
    if height / LEAST_SCALE >= wide:
        assert bottom <= low + 1e-6
        assert top >= low + wide - 1e-6
    assert view.left <= x <= view.left + width / (2 * view.scale)


def test_luminance_and_shade() -> None:
    """Luminance as WCAG defines it: black 0, white 1, middle grey by its table; shades darker."""
    assert (0.0, 1.0) == (luminance("#000000"), luminance("#ffffff"))
    assert pytest.approx(0.2126) == luminance("#ff0000")
    assert pytest.approx(0.7152) == luminance("#00ff00")
    # (0.5019608 + 0.055) / 1.055 to the power 2.4.
    assert pytest.approx(0.21586, abs=1e-5) == luminance("#808080")
    assert "#664020" == faded("#ffa050", 0.4, "#000000")
    assert "#ffd9b9" == faded("#ffa050", 0.4, "#ffffff")
