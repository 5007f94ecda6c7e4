"""The ends drawn: the right end of the band, loops and findings outside it, every target seen."""

import xml.etree.ElementTree as ET
from collections.abc import Iterator

import pytest
from sealing import CLOSURES, closed

from tracker.design.model import ClosureKind
from tracker.path.model import Bead
from tracker.path.words import phrases
from tracker.pattern.model import Pattern
from tracker.pictures.cells import Cell, Look, draw
from tracker.pictures.scene import Scene, rows_shown, scene_at
from tracker.pictures.sheet import Drawing
from tracker.pictures.svg import draw_svg
from tracker.pictures.told import caps, told
from tracker.pictures.view import View, view_for

SIZES = [(50, 12), (140, 40)]
CAPS = 1.2
"""Room for the caps at the edges of the band, mm."""
every_closure = pytest.mark.parametrize("kind", CLOSURES)


def scenes(pattern: Pattern) -> Iterator[tuple[int, int, Scene]]:
    """Row, step (from 0) and scene of every move of the ends."""
    for row in range(pattern.woven_rows, pattern.row_count):
        for step in range(pattern.steps_in(row)):
            yield row, step, scene_at(pattern, row, step, back=3)


def picture(
    pattern: Pattern, scene: Scene, size: tuple[int, int], *, mono: bool = False
) -> tuple[View, list[list[Cell]]]:
    """A scene in cells, seen about its move."""
    ys = [b.place.y for r in (0, 1) for b in pattern.row(r).beads if b.kind == "tile"]
    middle, half = (min(ys) + max(ys)) / 2, pattern.gauge.width / 2 + CAPS
    view = view_for(*size, low=middle - half, high=middle + half, focus=scene.focus)
    colours = {colour.letter: colour.hex for colour in pattern.colours}
    return view, draw(scene, view, colours, Look(mono=mono))


@every_closure
@pytest.mark.parametrize("rows", [5, 6])
@pytest.mark.parametrize("columns", [2, 5])
def test_every_pass_through_a_bead_is_a_target(kind: ClosureKind, columns: int, rows: int) -> None:
    """What the needle goes through lies in the scene; runs of seeds are one target, as ever."""
    pattern = closed(kind, columns, rows).pattern
    for row, number, scene in scenes(pattern):
        step = pattern.row(row).steps[number]
        there = {drawn.bead.id for drawn in scene.beads}
        assert {p.bead for p in step.passes} <= there
        holes = [(p.bead, p.hole) for p in step.gone_through() if p.hole]
        assert holes == [(t.bead.id, t.hole) for t in scene.targets if t.hole]
        assert bool(list(step.gone_through())) == bool(scene.targets)


@every_closure
@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("columns", [2, 5, 7])
def test_targets_are_in_view_with_their_numbers(
    kind: ClosureKind, columns: int, size: tuple[int, int]
) -> None:
    """Each hole to go through at the ends is on the screen, and its number stands in it."""
    pattern = closed(kind, 4 if columns == 7 and kind == "bead loops" else columns, 7).pattern
    seen = 0
    for _, _, scene in scenes(pattern):
        view, cells = picture(pattern, scene, size)
        for target in scene.targets:
            column, row = view.cell(target.centre)
            assert str(target.order) == cells[row][column].text
            seen += 1
    assert seen > 5


@pytest.mark.parametrize("mono", [False, True])
@pytest.mark.parametrize("kind", [kind for kind in CLOSURES if kind != "ribbon ends"])
def test_findings_are_marked(kind: ClosureKind, mono: bool) -> None:
    """A finding is no bead of a colour: it is an outline with a diamond, and has no letter."""
    pattern = closed(kind).pattern
    marks = 0
    for _, _, scene in scenes(pattern):
        view, cells = picture(pattern, scene, (140, 40), mono=mono)
        ringed = {view.cell(target.centre) for target in scene.targets}
        for drawn in scene.beads:
            middle = view.cell((drawn.bead.place.x, drawn.bead.place.y))
            outside = not (0 <= middle[0] < view.width and 0 <= middle[1] < view.height)
            if drawn.bead.kind != "finding" or middle in ringed or outside:
                continue
            cell = cells[middle[1]][middle[0]]
            assert cell.text == "◇"
            assert ("" if mono else Look().metal) == cell.front
            marks += 1
    assert marks


@every_closure
def test_loops_lie_outside_the_band(kind: ClosureKind) -> None:
    """All that is picked up for a loop lies beyond the tiles of its end."""
    for rows in (6, 7):
        pattern = closed(kind, 3, rows).pattern
        path = pattern.path()
        xs = [b.place.x for row in path.rows for b in row.beads if b.kind == "tile"]
        loops = {
            section: [b.place.x for row in path.rows if row.section == section for b in row.beads]
            for section in ("first end", "second end")
        }
        assert all(x > max(xs) for x in loops["first end"])
        assert all(x < min(xs) for x in loops["second end"])


def test_each_end_is_shown_where_it_is() -> None:
    """The working end shows the last rows, the other end the first ones."""
    pattern = closed("wire guards", 2, 30).pattern
    names = pattern.section_names
    first, second = names.index("first end"), names.index("second end")
    assert [27, 28, 29, 30, 31] == rows_shown(pattern, first, 3)[-5:]
    assert rows_shown(pattern, first + 2, 3)[0] == 27
    assert [0, 1, 2, 3, 4, 5, second] == rows_shown(pattern, second, 3)
    assert [0, 1, 2, 3, 4, 5, second, second + 1] == rows_shown(pattern, second + 1, 3)
    assert [5, 6, 7, 8] == rows_shown(pattern, 8, 3)


def test_thread_begins_anew_with_the_tail() -> None:
    """Once the needle is on the tail, its way begins at the first bead of the band."""
    pattern = closed("wire guards").pattern
    row = pattern.section_names.index("second end")
    assert "tail" == pattern.row(row).steps[1].note
    scene = scene_at(pattern, row, 2, back=3)
    first = pattern.row(0).beads[0]
    x, y = scene.way[0]
    assert abs(x - first.place.x) + abs(y - first.place.y) < 1.5
    assert scene.way[:1] == scene.thread
    for step in (0, 1):
        assert (first.place.x, first.place.y) == scene_at(pattern, row, step, back=3).focus
    after = scene_at(pattern, row, 3, back=3)
    assert scene.way[-1] == after.way[0]


@every_closure
def test_picture_is_told(kind: ClosureKind) -> None:
    """Every scene of the ends has its words, and no turn is told where there was none."""
    pattern = closed(kind).pattern
    for row, step, scene in scenes(pattern):
        lines = list(told(pattern, row, step))
        assert len(scene.targets) == sum(line.startswith("Hole ") for line in lines)
        assert sum(d.new for d in scene.beads) == sum(line.startswith("New: ") for line in lines)
        assert "finding" not in " ".join(lines)
        turned = pattern.row(row - 1).steps[-1].turn
        assert turned == bool(caps(pattern, row))


@every_closure
@pytest.mark.parametrize("thread", [False, True])
def test_svg_of_a_closed_band(kind: ClosureKind, thread: bool) -> None:
    """The whole picture is well formed and holds every bead and finding, thread and all."""
    pattern = closed(kind).pattern
    drawing = Drawing(thread=thread)
    root = ET.fromstring(draw_svg(pattern, drawing))  # noqa: S314  our own drawing
    assert root.tag.endswith("svg")
    uses = [use.get("href", "") for use in root.iter() if use.tag.endswith("use")]
    hung = 0 if kind == "ribbon ends" else sum(b.kind == "finding" for b in beads(pattern))
    assert hung == sum(href.startswith("#finding-") for href in uses)
    assert f"{pattern.woven_rows} rows, about" in "".join(root.itertext())


def beads(pattern: Pattern) -> list[Bead]:
    """All beads of a pattern."""
    return [bead for row in pattern.path().rows for bead in row.beads]


@every_closure
@pytest.mark.parametrize("full", [True, False])
def test_numbers_in_the_picture_are_those_of_the_words(kind: ClosureKind, full: bool) -> None:
    """The n-th hole of the picture lies in a bead that the n-th move of the words speaks of."""
    pattern = closed(kind, 3, 7).pattern
    for row in range(pattern.row_count):
        for number, step in enumerate(pattern.row(row).steps):
            scene = scene_at(pattern, row, number, back=3)
            moves = [
                part.beads
                for part in phrases(pattern, pattern.row(row), step, full=full)
                if part.move == "go through"
            ]
            assert len(moves) == len(scene.targets)
            for target in scene.targets:
                assert target.bead.id in moves[target.order - 1]
