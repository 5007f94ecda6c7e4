"""A picture of the band into a file; the ending of its name decides the form."""

from __future__ import annotations

import os
from pathlib import Path

from tracker.pattern.model import Pattern
from tracker.pictures.page import html_page
from tracker.pictures.png import PIXELS_PER_MM, png_of
from tracker.pictures.sheet import Drawing
from tracker.pictures.svg import draw_svg
from tracker.problems import Problem, ProblemsError
from tracker.progress import durable

FORMS = (".svg", ".png", ".html")


def save_picture(
    pattern: Pattern,
    out: Path,
    drawing: Drawing | None = None,
    *,
    large: bool = False,
    pixels_per_mm: float = PIXELS_PER_MM,
) -> None:
    """Write the band as `.svg` or `.png`, or the handout as `.html` (`large`: in large print).

    Raises ProblemsError that names the file; then `out` is what it was before.
    """
    try:
        data = _data(pattern, out, drawing or Drawing(), large, pixels_per_mm)
        durable.replace(out, data, mode=0o644)
    except ProblemsError as error:
        raise error.in_file(os.fspath(out)) from None
    except OSError as error:
        what = f"cannot be written: {durable.reason(error)}"
        problem = Problem("file", what, "name another file with -o")
        raise ProblemsError([problem], os.fspath(out)) from None


def _data(
    pattern: Pattern, out: Path, drawing: Drawing, large: bool, pixels_per_mm: float
) -> bytes:
    ending = out.suffix.lower()
    if ending == ".svg":
        return draw_svg(pattern, drawing).encode()
    if ending == ".png":
        return png_of(draw_svg(pattern, drawing), pixels_per_mm)
    if ending == ".html":
        asked = [name for name in ("thread", "row", "rows", "width") if _differs(drawing, name)]
        if asked:
            what = f"a page shows the whole band its own way, without: {', '.join(asked)}"
            raise ProblemsError([Problem("picture", what, "leave it out, or write an .svg")])
        return html_page(pattern, large=large).encode()
    if ending == ".pdf":
        # Tried: the library that knows enough CSS takes a text engine of the system and a tenth of
        # a minute, and leaves out every bead, as their shapes stand once for the whole page; the
        # small ones print the style sheet as text, or set one drawing and no page. A browser does
        # it all.
        what = "a PDF is not written here"
        mend = "write an .html, open it in a browser, and print it to a PDF"
        raise ProblemsError([Problem("picture", what, mend)])
    what = f'"{out.suffix}" is no form of a picture' if out.suffix else "the name has no ending"
    raise ProblemsError([Problem("picture", what, f"end it in {', '.join(FORMS)}")])


def _differs(drawing: Drawing, name: str) -> bool:
    return bool(getattr(drawing, name) != getattr(Drawing(), name))
