"""The work as a drawing for pixels: what it shows, and the process that makes pixels of it."""

import re
from pathlib import Path

import pytest
from weaving import a_design

from tracker.app import graphics
from tracker.pattern.compiler import compile_design
from tracker.pictures.cells import Look
from tracker.pictures.pixels import Canvas, draw_pixels, pixel_of, view_on
from tracker.pictures.renderer import NotDrawnError, Renderer
from tracker.pictures.scene import scene_at

CANVAS = Canvas(60, 14, 9, 19)


def drawing(canvas: Canvas = CANVAS) -> str:
    """Row 6 of a band of 3 columns."""
    pattern = compile_design(a_design(3, rows=12)).pattern
    scene = scene_at(pattern, 5, 1, back=12)
    view = view_on(canvas, low=-2.0, high=18.0, focus=scene.focus)
    colours = {colour.letter: colour.hex for colour in pattern.colours}
    return draw_pixels(scene, canvas, view, colours, Look())


def test_every_bead_bears_its_letter() -> None:
    """Each kind of bead, tile or seed, is drawn with the letter of its colour."""
    kinds = re.findall(r'<g id="(tile|seed)-([A-Z])-\d+">(.*?)(?=<g id=|</defs>)', drawing())
    assert {"tile", "seed"} == {kind for kind, _, _ in kinds}
    assert [] == [letter for _, letter, body in kinds if f">{letter}</text>" not in body]


def test_what_is_no_bead_is_there_too() -> None:
    """Rings with their numbers, the cross, open holes and a rim, in the colours that are asked."""
    text, look = drawing(), Look()
    assert ["1", "2"] == re.findall(rf'fill="{look.target}">(\d)</text>', text)
    assert f'stroke="{look.wrong}"' in text
    assert f'r="0.45" fill="{look.hole}" stroke="{look.new}"' in text
    assert "outline" in text


def test_a_place_of_the_work_is_where_the_view_says() -> None:
    """The view's upper left corner is pixel 0, 0, and a millimetre is as long either way."""
    view = view_on(CANVAS, low=0.0, high=10.0, focus=(20.0, 5.0))
    assert (0, 0) == pixel_of(CANVAS, view, (view.left, view.top))
    x, y = pixel_of(CANVAS, view, (view.left + 3.0, view.top - 3.0))
    assert x == y == round(3.0 * view.scale * CANVAS.cell_height)


def test_a_picture_is_as_large_as_its_cells() -> None:
    """To the pixel, both ways, and a line of sixels for each line of cells."""
    image = pytest.importorskip("PIL.Image", reason="the extra `pixels` is not installed")
    pytest.importorskip("textual_image", reason="the extra `pixels` is not installed")
    import base64  # noqa: PLC0415  only where it is needed
    import io  # noqa: PLC0415  likewise

    renderer = Renderer()
    try:
        (png,) = renderer.draw(drawing(), "kitty", CANVAS.lines)
        size = image.open(io.BytesIO(base64.b64decode(png))).size
        lines = renderer.draw(drawing(), "sixel", CANVAS.lines)
    finally:
        renderer.close()
    assert (540, 266) == size
    assert CANVAS.lines == len(lines)
    assert all(line.startswith('\x1bP0;0;0q"1;1;540;19') for line in lines)


def test_what_cannot_be_drawn_is_said() -> None:
    """A broken drawing ends the process with a word; closed, it draws no more."""
    renderer = Renderer()
    try:
        with pytest.raises(NotDrawnError, match=r"\w"):
            renderer.draw("<svg", "kitty", 1)
    finally:
        renderer.close()
    with pytest.raises(NotDrawnError, match="nothing is drawn"):
        renderer.draw(drawing(), "kitty", CANVAS.lines)


def test_lines_and_columns_have_the_protocols_marks() -> None:
    """The same marks in the same order as another program's copy of the protocol's list."""
    library = pytest.importorskip("textual_image", reason="the extra `pixels` is not installed")
    # Read, not imported: when it is imported it questions the terminal.
    source = (Path(library.__path__[0]) / "renderable" / "tgp.py").read_text("utf-8")
    table = source[source.index("_NUMBER_TO_DIACRITIC = [") : source.index("\n]")]
    listed = tuple(chr(int(code, 16)) for code in re.findall(r"0x([0-9a-f]{5})\b", table))
    assert 297 == len(listed)
    assert listed == graphics.numbers()
