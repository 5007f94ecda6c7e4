"""The work as a drawing for a terminal that shows pixels, as large as some of its cells."""

from __future__ import annotations

from collections.abc import Mapping

from tracker.path.plane import Point
from tracker.pictures.cells import Look
from tracker.pictures.figure import scene_parts
from tracker.pictures.paper import FACES, Inks, number
from tracker.pictures.scene import Scene
from tracker.pictures.symbols import Symbols
from tracker.pictures.view import View, view_for
from tracker.records import record

LEAST_SCALE = 0.8
"""Rows of cells to a millimetre: below, the letters on tiles are smaller than the terminal's."""


@record
class Canvas:
    """So many cells of a terminal, each so many pixels large."""

    columns: int
    lines: int
    cell_width: int
    cell_height: int

    @property
    def width(self) -> int:
        """In pixels."""
        return self.columns * self.cell_width

    @property
    def wide(self) -> int:
        """In cells that are twice as high as they are wide, as views count."""
        return round(2 * self.width / self.cell_height)

    @property
    def height(self) -> int:
        """In pixels."""
        return self.lines * self.cell_height


def view_on(canvas: Canvas, *, low: float, high: float, focus: Point) -> View:
    """The part of the plane that is shown, as for cells, but finer and for cells of any shape."""
    return view_for(canvas.wide, canvas.lines, low=low, high=high, focus=focus, least=LEAST_SCALE)


def pixel_of(canvas: Canvas, view: View, point: Point) -> tuple[int, int]:
    """Where a point of the plane lies on the canvas, pixels from the upper left."""
    fine = view.scale * canvas.cell_height
    return (round((point[0] - view.left) * fine), round((view.top - point[1]) * fine))


def draw_pixels(
    scene: Scene, canvas: Canvas, view: View, colours: Mapping[str, str], look: Look
) -> str:
    """The scene as SVG that is exactly as large as the canvas; every bead bears its letter."""
    inks = Inks(
        paper=look.ground,
        rim=look.new,
        way=look.way,
        wrong=look.wrong,
        hole=look.hole,
        number=look.target,
    )
    symbols = Symbols(colours, letters=True, small_letters=True, inks=inks)
    parts = "".join(scene_parts(scene, symbols, inks, on_screen=True))
    fine = view.scale * canvas.cell_height
    wide, high = canvas.width / fine, canvas.height / fine
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{canvas.width}" '
        f'height="{canvas.height}" viewBox="{number(view.left)} {number(-view.top)} '
        f'{number(wide)} {number(high)}" preserveAspectRatio="xMinYMin slice" '
        f'font-family="{FACES}"><rect x="{number(view.left)}" y="{number(-view.top)}" '
        f'width="{number(wide + 1)}" height="{number(high + 1)}" fill="{look.ground}"/>'
        f"<defs>{''.join(symbols.defs())}</defs>{parts}</svg>"
    )
