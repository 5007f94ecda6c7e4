"""Scales along a band: millimetres and inches below it, the numbers of its rows above."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from tracker.pictures.paper import QUIET, number

SCALE_HEIGHT = 4.6
"""Room for one scale, mm."""
INCH = 25.4
_SMALL = 2.2
_STROKE = f'stroke="{QUIET}" stroke-width=".12" fill="none"'


def length_scales(left: float, top: float, length: float) -> Iterator[str]:
    """A scale of millimetres and one of inches, each from `left` on, downwards from `top`.

    `length` is that of the band, mm; the scales go a tick further than it.
    """
    millimetres = math.ceil(length - 1e-6)
    heights = [_height(i, ((10, 2.0), (5, 1.5), (1, 0.9))) for i in range(millimetres + 1)]
    yield from _scale(left, top, 1.0, heights)
    yield from _numbers(
        (left + 10 * i, top + 4.1, f"{10 * i}") for i in range(millimetres // 10 + 1)
    )
    yield _unit(left, top + 2.2, "mm")

    eighths = math.ceil(length / INCH * 8 - 1e-6)
    heights = [_height(i, ((8, 2.0), (4, 1.5), (2, 1.2), (1, 0.9))) for i in range(eighths + 1)]
    below = top + SCALE_HEIGHT
    yield from _scale(left, below, INCH / 8, heights)
    yield from _numbers((left + INCH * i, below + 4.1, f"{i}") for i in range(eighths // 8 + 1))
    yield _unit(left, below + 2.2, "in")


def row_scale(origins: Sequence[float], first: int, bottom: float, left: float) -> Iterator[str]:
    """A tick at each tenth row, with its number. `origins` are x of the rows from `first` on."""
    marked = [(x, row) for row, x in enumerate(origins, start=first) if row % 10 == 0 or row == 1]
    ticks = "".join(f"M{number(x)} {number(bottom)}v-1.2" for x, _ in marked)
    if ticks:
        yield f'<path d="{ticks}" {_STROKE}/>'
    yield from _numbers((x, bottom - 1.7, f"{row}") for x, row in marked)
    yield _unit(left, bottom - 1.7, "row")


def _height(i: int, heights: Sequence[tuple[int, float]]) -> float:
    return next(height for every, height in heights if i % every == 0)


def _scale(left: float, top: float, apart: float, heights: Sequence[float]) -> Iterator[str]:
    ticks = "".join(f"M{i * apart + left:.3f} {number(top)}v{h}" for i, h in enumerate(heights))
    line = f"M{number(left)} {number(top)}H{number(left + apart * (len(heights) - 1))}"
    yield f'<path d="{line}{ticks}" {_STROKE}/>'


def _numbers(marks: Iterator[tuple[float, float, str]]) -> Iterator[str]:
    yield f'<g font-size="{_SMALL}" fill="{QUIET}" text-anchor="middle">'
    for x, y, text in marks:
        yield f'<text x="{number(x)}" y="{number(y)}">{text}</text>'
    yield "</g>"


def _unit(left: float, y: float, unit: str) -> str:
    return (
        f'<text x="{number(left - 1.4)}" y="{number(y)}" font-size="{_SMALL}" fill="{QUIET}" '
        f'text-anchor="end">{unit}</text>'
    )
