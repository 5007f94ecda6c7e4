"""Drawings into what a terminal takes, in a process of its own.

The renderer holds the interpreter for as long as it draws (60 to 700 ms as measured): in a thread
of the tracker every key would wait for it. Started as `python -m tracker.pictures.pixel_worker`.
Each line of its input is an order in JSON, each line of its output what came of that, in order.
It ends when its input does.

Of textual-image only the sixel encoder is used, from a private module, so its version is pinned.
Its widgets ask the terminal when they are imported, waiting for an answer and losing keys; they
encode while they paint, write to standard output past the screen, and leave their images in the
terminal. Pillow, which it needs, reduces the colours for both ways.
"""

from __future__ import annotations

import base64
import io
import json
import sys
from typing import Literal

Way = Literal["kitty", "sixel"]
"""The graphics protocol of kitty, or sixels."""

COLOURS = 128
_PROOF = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="40" height="40" font-family="sans-serif">'
    '<text x="8" y="34" font-size="36" fill="#ffffff">M</text></svg>'
)
"""A letter, to see whether there is a face to write with: beads without letters tell too little."""


def order(svg: str, way: Way, lines: int) -> str:
    """A line of the worker's input: a drawing to be cut into so many lines of cells."""
    return json.dumps({"svg": svg, "way": way, "lines": lines}) + "\n"


def drawn(svg: str, way: Way, lines: int) -> list[str]:
    """A drawing as the terminal takes it.

    For kitty one base64 text, a PNG; for sixel a sequence for each line of cells. Raises
    ImportError without the libraries, ValueError for what cannot be drawn.
    """
    import resvg_py  # noqa: PLC0415  an extra that may be missing
    from PIL import Image  # noqa: PLC0415  likewise

    png = io.BytesIO(bytes(resvg_py.svg_to_bytes(svg_string=svg)))
    image = Image.open(png).convert("RGB").quantize(COLOURS, dither=Image.Dither.NONE)
    if way == "kitty":
        packed = io.BytesIO()
        image.save(packed, "png")
        return [base64.b64encode(packed.getvalue()).decode()]
    from textual_image._sixel import image_to_sixels  # noqa: PLC0415  likewise

    high = image.height // lines
    strips = (image.crop((0, y * high, image.width, (y + 1) * high)) for y in range(lines))
    return [image_to_sixels(strip) for strip in strips]


def has_letters() -> bool:
    """Whether there is a face to write letters with."""
    import resvg_py  # noqa: PLC0415  an extra that may be missing
    from PIL import Image  # noqa: PLC0415  likewise

    png = bytes(resvg_py.svg_to_bytes(svg_string=_PROOF))
    return Image.open(io.BytesIO(png)).convert("RGBA").getbbox() is not None


def main() -> None:
    """Draw until the input ends."""
    try:
        if not has_letters():
            _tell({"failure": "no typeface is installed"})
            return
        for line in sys.stdin:
            _tell({"drawn": drawn(**json.loads(line))})
    except (ImportError, OSError, ValueError) as error:
        _tell({"failure": str(error)})


def _tell(what: dict[str, object]) -> None:
    sys.stdout.write(json.dumps(what) + "\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main()
