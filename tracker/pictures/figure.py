"""One move drawn large: new beads rimmed, holes ringed and numbered, the needle's way.

Everything that has a meaning has a shape: what the figure says can be seen without colours.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from tracker.beads.model import Tile
from tracker.path.plane import Point
from tracker.pictures.cells import UNDER
from tracker.pictures.outlines import hole_centre
from tracker.pictures.paper import (
    FACES,
    ON_PAPER,
    Inks,
    arrow_head,
    at,
    escaped,
    line,
    number,
)
from tracker.pictures.raster import OPEN_HOLE, RING
from tracker.pictures.scene import Drawn, Scene
from tracker.pictures.symbols import Symbols
from tracker.pictures.whole_band import outline
from tracker.records import record

CROSS = 1.05
"""Half the width of the cross on a bead to pass by, mm."""
_MARGIN = 1.2


@record
class Window:
    """The part of the plane that a figure shows, mm."""

    left: float
    right: float
    low: float
    high: float


def window_of(scene: Scene, most: float = math.inf) -> Window:
    """Room for a scene with a margin; across the band at most `most` mm, about the move."""
    points = [point for drawn in scene.beads for point in outline(drawn.bead, drawn.shape)]
    points += scene.way
    xs, ys = [x for x, _ in points], [y for _, y in points]
    low, high = min(ys) - _MARGIN, max(ys) + _MARGIN
    if high - low > most:
        low = min(max(low, scene.focus[1] - most / 2), high - most)
        high = low + most
    return Window(min(xs) - _MARGIN, max(xs) + _MARGIN, low, high)


def draw_scene(
    scene: Scene, symbols: Symbols, *, title: str, zoom: float, window: Window | None = None
) -> str:
    """The scene as an SVG element, `zoom` times its real size.

    The beads are only named: the defs of `symbols` have to stand somewhere in the same page.
    """
    room = window or window_of(scene)
    wide, high = room.right - room.left, room.high - room.low
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" width="{number(wide * zoom)}mm" '
        f'height="{number(high * zoom)}mm" viewBox="{number(room.left)} {number(-room.high)} '
        f'{number(wide)} {number(high)}" font-family="{FACES}"><title>{escaped(title)}</title>'
    )
    return f"{head}{''.join(scene_parts(scene, symbols))}</svg>"


def scene_parts(
    scene: Scene, symbols: Symbols, inks: Inks = ON_PAPER, *, on_screen: bool = False
) -> Iterator[str]:
    """Everything in the scene as elements in mm, lowest first.

    On a screen, as in its cells, open holes are marked, and no thread of earlier rows lies upon
    the letters.
    """
    yield from _beads(scene, symbols)
    if not on_screen:
        yield from _thread(scene, inks)
    for drawn in scene.beads:
        yield from _cross(scene, drawn, inks)
    if on_screen:
        yield from _open_holes(scene, inks)
    yield from _way(scene, inks)
    for target in scene.targets:
        yield from _ring(target.centre, str(target.order), inks)
    for middle in scene.threads:
        yield from _ring(middle, UNDER, inks)


def _beads(scene: Scene, symbols: Symbols) -> Iterator[str]:
    in_layers = sorted(scene.beads, key=lambda drawn: drawn.bead.kind == "seed")
    for drawn in in_layers:
        if not drawn.new:
            yield _placed(
                drawn, symbols.bead(drawn.shape, drawn.bead.colour, drawn.bead.place.tilt)
            )
    # All rims come before all new beads: those that touch are rimmed as one.
    new = [drawn for drawn in in_layers if drawn.new]
    for drawn in new:
        yield _placed(drawn, symbols.outline(drawn.shape, drawn.bead.place.tilt))
    for drawn in new:
        yield _placed(drawn, symbols.bead(drawn.shape, drawn.bead.colour, drawn.bead.place.tilt))


def _placed(drawn: Drawn, symbol: str) -> str:
    x, y, _ = drawn.bead.place
    return f'<use href="#{symbol}" x="{number(x)}" y="{number(-y)}"/>'


def _thread(scene: Scene, inks: Inks) -> Iterator[str]:
    if scene.thread:
        d = line(scene.thread, scene.around)
        yield (
            f'<path d="{d}" fill="none" stroke="{inks.paper}" stroke-width=".26" '
            f'stroke-opacity=".7"/><path d="{d}" fill="none" stroke="{inks.thread}" '
            'stroke-width=".12"/>'
        )


def _way(scene: Scene, inks: Inks) -> Iterator[str]:
    if not scene.way:
        return
    d = line(scene.way, scene.around)
    for colour, thick in ((inks.paper, 0.54), (inks.way, 0.26)):
        yield (
            f'<path d="{d}" fill="none" stroke="{colour}" stroke-width="{thick}" '
            'stroke-linejoin="round" stroke-linecap="round"/>'
        )
    x, y = scene.way[0]
    yield (
        f'<circle cx="{number(x)}" cy="{number(-y)}" r=".5" fill="{inks.way}" '
        f'stroke="{inks.paper}" stroke-width=".16"/>'
    )
    if len(scene.way) > 1:
        head = arrow_head(scene.way[-2], _beyond(scene.way[-2], scene.way[-1], 0.9), 1.5)
        points = " ".join(at(point) for point in head)
        yield (
            f'<polygon points="{points}" fill="{inks.way}" stroke="{inks.paper}" '
            'stroke-width=".16" stroke-linejoin="round"/>'
        )


def _beyond(start: Point, end: Point, far: float) -> Point:
    """A point `far` mm beyond the end of a line."""
    long = ((end[0] - start[0]) ** 2 + (end[1] - start[1]) ** 2) ** 0.5 or 1.0
    return (
        end[0] + far * (end[0] - start[0]) / long,
        end[1] + far * (end[1] - start[1]) / long,
    )


def _cross(scene: Scene, drawn: Drawn, inks: Inks) -> Iterator[str]:
    if drawn.bead.id not in scene.pass_by:
        return
    x, y, _ = drawn.bead.place
    d = (
        f"M{at((x - CROSS, y - CROSS))}L{at((x + CROSS, y + CROSS))}"
        f"M{at((x - CROSS, y + CROSS))}L{at((x + CROSS, y - CROSS))}"
    )
    for colour, thick in ((inks.paper, 0.8), (inks.wrong, 0.42)):
        yield f'<path d="{d}" stroke="{colour}" stroke-width="{thick}" stroke-linecap="round"/>'


def _open_holes(scene: Scene, inks: Inks) -> Iterator[str]:
    for drawn in scene.beads:
        if isinstance(drawn.shape, Tile) and not drawn.new and "b" not in drawn.filled:
            x, y = hole_centre(drawn, "b")
            yield (
                f'<circle cx="{number(x)}" cy="{number(-y)}" r="{OPEN_HOLE}" fill="{inks.hole}" '
                f'stroke="{inks.rim}" stroke-width=".16"/>'
            )


def _ring(centre: Point, order: str, inks: Inks) -> Iterator[str]:
    x, y = number(centre[0]), number(-centre[1])
    yield (
        f'<circle cx="{x}" cy="{y}" r="{RING}" fill="{inks.hole}" stroke="{inks.way}" '
        'stroke-width=".26"/>'
        f'<text x="{x}" y="{number(-centre[1] + 0.52)}" font-size="1.45" font-weight="700" '
        f'text-anchor="middle" fill="{inks.number}">{order}</text>'
    )
