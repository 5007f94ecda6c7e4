"""A drawing as pixels (PNG), through a library that only those install who want it.

resvg-py was chosen by its price: one wheel of 1.4 MB for every Python from 3.10 on, no system
libraries, nothing fetched when it runs. The other ways cost more: cairosvg needs Cairo on the
system, skia-python is ten times as large, and with Pillow everything would be drawn twice.
"""

from __future__ import annotations

import struct
import zlib
from math import isfinite

from tracker.problems import Problem, ProblemsError

PIXELS_PER_MM = 12.0
"""About 300 to the inch: as fine as paper shows."""
MOST_PIXELS = 250_000_000
"""Of a picture, a gigabyte in memory."""


def png_of(svg: str, pixels_per_mm: float = PIXELS_PER_MM) -> bytes:
    """A drawing so fine that 1 mm on paper has that many pixels, as the bytes of a PNG file.

    Raises ProblemsError if the library is missing or if the picture would be too large.
    """
    try:
        import resvg_py  # noqa: PLC0415  an extra that may be missing
    except ImportError:
        what = "a PNG needs the library resvg-py, which is not installed"
        mend = 'install it with: pip install "bead-row-tracker[png]", or write an .svg'
        raise _problem(what, mend) from None
    wide, high = _size_in_mm(svg)
    if not (isfinite(pixels_per_mm) and pixels_per_mm > 0):
        what = f"{pixels_per_mm:g} pixels to a millimetre is no fineness"
        raise _problem(what, f"choose one above 0, such as {PIXELS_PER_MM:g}")
    if wide * high * pixels_per_mm**2 > MOST_PIXELS:
        what = f"at {pixels_per_mm:g} pixels to a millimetre it would be too large"
        raise _problem(what, "draw fewer rows, or write an .svg")
    return _measured(resvg_py.svg_to_bytes(svg_string=svg, dpi=25.4 * pixels_per_mm), pixels_per_mm)


def _measured(png: bytes, pixels_per_mm: float) -> bytes:
    """The picture with its fineness written in it (chunk pHYs), so that it prints in its size."""
    # Eight bytes of signature, and 25 of the header, which is always the first chunk.
    head, rest = png[:33], png[33:]
    per_metre = round(1000 * pixels_per_mm)
    chunk = b"pHYs" + struct.pack(">IIB", per_metre, per_metre, 1)
    return head + struct.pack(">I", 9) + chunk + struct.pack(">I", zlib.crc32(chunk)) + rest


def _size_in_mm(svg: str) -> tuple[float, float]:
    head = svg[: svg.index(">")]
    wide, high = (head.split(f'{side}="')[1].split("mm")[0] for side in ("width", "height"))
    return (float(wide), float(high))


def _problem(what: str, mend: str) -> ProblemsError:
    return ProblemsError([Problem("picture", what, mend)])
