"""Pictures of the work in pixels: made beside everything else, kept, and put on the terminal.

Nobody waits for one. Until a picture is there its cells are shown; a picture belongs to the place
that it shows, so an old one never stands for another place. When there is nothing else to do, the
picture of the next place is made.
"""

from __future__ import annotations

import asyncio
from collections import OrderedDict
from collections.abc import Callable, Hashable
from dataclasses import replace
from typing import TYPE_CHECKING

from textual.geometry import Size
from textual.strip import Strip

from tracker.app import graphics
from tracker.app.place import Place
from tracker.progress.position import forward
from tracker.records import record

if TYPE_CHECKING:
    from tracker.pictures.pixel_worker import Way
    from tracker.pictures.pixels import Canvas
    from tracker.pictures.renderer import Renderer
    from tracker.pictures.scene import Scene
    from tracker.pictures.view import View

# Many terminals show no pixels: what draws them is imported when one has said that it does.

KEPT = 16
"""Pictures kept, for going back and forth."""


@record
class Sheet:
    """A picture to be made: of which place, on which cells."""

    place: Place
    canvas: Canvas
    compose: Callable[[Place, Canvas], tuple[Scene, View]]
    """What is seen of the place; may take a few milliseconds."""

    @property
    def key(self) -> Hashable:
        """All that its looks depend on."""
        place = self.place
        return (place.pattern.digest, place.position, place.by, place.dress, self.canvas)

    def svg(self) -> str:
        """The picture."""
        from tracker.pictures.pixels import draw_pixels  # noqa: PLC0415

        scene, view = self.compose(self.place, self.canvas)
        colours = {colour.letter: colour.hex for colour in self.place.pattern.colours}
        return draw_pixels(scene, self.canvas, view, colours, self.place.dress.cells)


class Pixels:
    """Makes pictures for one terminal."""

    def __init__(self, write: Callable[[str], None], why_cells: str, *, wished: bool) -> None:
        self._why_cells = why_cells
        """Why pictures are drawn in cells; "" if it is not known yet, or if they are not."""
        self._wished = wished
        self._write = write
        self._way: Way | None = None
        self._renderer: Renderer | None = None
        self._made: OrderedDict[Hashable, tuple[str, ...]] = OrderedDict()
        self._wanted: Sheet | None = None
        self._at_work = False
        self._shown: tuple[Hashable, int] | None = None
        """Which picture the terminal has, and as which of its two images."""

    @property
    def words(self) -> str:
        """What to say if pixels were wished for and are not to be had, else ""."""
        said = self._wished and self._why_cells
        return f"The picture is drawn in characters: {self._why_cells}." if said else ""

    def found(self, way: Way | None) -> None:
        """Note how the terminal shows pixels."""
        self._way = way
        if way is None:
            self._why_cells = "the terminal shows no pixels"
            return
        from tracker.pictures.renderer import Renderer  # noqa: PLC0415  see above

        self._renderer = self._renderer or Renderer()

    def canvas(self, size: Size) -> Canvas | None:
        """What can be painted on in so many cells; None if they have to do as they are."""
        if self._way is None or min(size) < 1 or max(size) > len(graphics.numbers()):
            return None
        from tracker.pictures.pixels import Canvas  # noqa: PLC0415

        cell = graphics.cell_size()
        return None if cell is None else Canvas(size.width, size.height, *cell)

    def put(self, sheet: Sheet, left: int) -> list[Strip] | None:
        """A picture as lines for the cells from column `left` on; None if it is not made yet."""
        made = self._made.get(sheet.key)
        if made is None:
            return None
        canvas, ground = sheet.canvas, sheet.place.dress.ground
        if self._way == "sixel":
            return graphics.sixel_strips(made, canvas.columns, ground, left)
        if self._shown is None or self._shown[0] != sheet.key:
            # The image before stays until its cells are painted over: there are two by turns.
            turn = 0 if self._shown is None else 1 - self._shown[1]
            self._shown = (sheet.key, turn)
            image = graphics.kitty_id(turn)
            self._write(graphics.kitty_gone(image))
            self._write(graphics.kitty_image(image, made[0], canvas.columns, canvas.lines))
        image = graphics.kitty_id(self._shown[1])
        return graphics.kitty_strips(image, canvas.columns, canvas.lines, ground)

    async def make(self, sheet: Sheet, then: Callable[[], None]) -> None:
        """Make a picture, and those that are wanted meanwhile; `then` is called after each."""
        self._wanted = sheet
        if self._at_work or self._way is None:  # asked for before the renderer ended
            return
        from tracker.pictures.renderer import NotDrawnError  # noqa: PLC0415

        self._at_work = True
        try:
            while (missing := self._missing()) is not None:
                self._keep(missing, await asyncio.to_thread(self._drawn, missing))
                then()
        except NotDrawnError as error:
            self._way = None
            self._why_cells = str(error)
            then()
        finally:
            self._at_work = False

    def _missing(self) -> Sheet | None:
        """The last picture that was wanted, or the one of the place after it, if not made yet."""
        if self._wanted is None or self._way is None:
            return None
        place = self._wanted.place
        after = forward(place.pattern, place.position, place.by)
        ahead = replace(self._wanted, place=replace(place, position=after))
        return next((each for each in (self._wanted, ahead) if each.key not in self._made), None)

    def _drawn(self, sheet: Sheet) -> tuple[str, ...]:
        assert self._way is not None, "asked only then"
        assert self._renderer is not None, "made when the way was found"
        return self._renderer.draw(sheet.svg(), self._way, sheet.canvas.lines)

    def _keep(self, sheet: Sheet, made: tuple[str, ...]) -> None:
        self._made[sheet.key] = made
        while len(self._made) > KEPT:
            self._made.popitem(last=False)

    def forget(self) -> None:
        """The terminal has lost its images: they are sent anew when they are shown."""
        self._shown = None

    def close(self) -> None:
        """Leave no process behind. The driver takes the images away."""
        if self._renderer is not None:
            self._renderer.close()
