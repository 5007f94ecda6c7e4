"""The drawings as other programs render them: rsvg-convert, and the library behind PNG files.

In continuous integration install Debian's package librsvg2-bin, and the extra `png`.
"""

import shutil
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from drawn import boxes, fineness, pixels
from sealing import compiled

from tracker.pattern.model import Pattern
from tracker.pictures.png import MOST_PIXELS, png_of
from tracker.pictures.save import save_picture
from tracker.pictures.sheet import Drawing
from tracker.pictures.svg import draw_svg
from tracker.problems import ProblemsError

PER_MM = 10
BARE = Drawing(words=False, scales=False)
RENDERER = shutil.which("rsvg-convert")
needs_renderer = pytest.mark.skipif(
    RENDERER is None, reason="rsvg-convert is not installed (Debian: librsvg2-bin)"
)


@pytest.fixture(scope="module")
def band() -> Pattern:
    """Two columns, six rows, each lane in a colour of its own."""
    return compiled(2, 6).pattern


def rendered(svg: str, *arguments: str) -> bytes:
    """The PNG that rsvg-convert makes, 10 pixels to a millimetre."""
    dots = str(25.4 * PER_MM)
    command = [RENDERER or "", "-d", dots, "-p", dots, *arguments]
    return subprocess.run(command, input=svg.encode(), capture_output=True, check=True).stdout


def colours_at_middles(picture: bytes, svg: str, per_mm: float) -> list[tuple[str, str]]:
    """Of each bead: the colour it was drawn in, and that of the pixel at its middle."""
    seen = pixels(picture)
    pairs = []
    for box in boxes(svg, ""):
        x, y = (int(middle * per_mm) for middle in box.middle)
        pairs.append((box.fill, "#" + bytes(seen[y, x][:3]).hex()))
    return pairs


@needs_renderer
def test_middles_have_the_beads_colours(band: Pattern) -> None:
    """Rendered by rsvg-convert, the pixel at each bead's middle is the bead's colour."""
    svg = draw_svg(band, BARE)
    pairs = colours_at_middles(rendered(svg), svg, PER_MM)
    assert sum(band.totals.values()) == len(pairs)
    assert [] == [pair for pair in pairs if pair[0] != pair[1]]


@needs_renderer
@pytest.mark.parametrize("drawing", [BARE, Drawing(letters=True, thread=True), Drawing(row=3)])
def test_real_size_on_paper(band: Pattern, drawing: Drawing) -> None:
    """The picture is as many pixels wide as its millimetres come to, and the tile is 5 mm."""
    picture = pixels(rendered(draw_svg(band, drawing)))
    svg = draw_svg(band, drawing)
    wide, high = (float(figure) for figure in svg.split('viewBox="0 0 ')[1].split('"')[0].split())
    assert (high * PER_MM, wide * PER_MM) == pytest.approx(picture.shape[:2], abs=1.0)


@needs_renderer
def test_a_ruler_laid_on_the_print_is_right(band: Pattern) -> None:
    """From one centimetre's tick to the next there are 10 mm of pixels."""
    svg = draw_svg(band, Drawing(words=False))
    picture = pixels(rendered(svg)).astype(int)[:, :, :3].sum(axis=2)
    corners = np.concatenate([box.corners for box in boxes(svg, "")])
    # 1.8 mm below the scale's line only the ticks of whole centimetres are left.
    row = round((float(corners[:, 1].max()) + 1.6 + 1.8) * PER_MM)
    left = round(float(corners[:, 0].min()) * PER_MM)
    dark = np.flatnonzero(picture[row, left - 2 :] < picture.max() - 60)
    ticks = [int(x) for x in dark if x - 1 not in dark]
    assert len(ticks) >= 2
    assert [10 * PER_MM * i for i in range(len(ticks))] == pytest.approx(
        np.subtract(ticks, ticks[0]), abs=1
    )


@needs_renderer
def test_both_renderers_draw_the_same(band: Pattern) -> None:
    """rsvg-convert and the PNG library agree in nearly every pixel of the beads."""
    pytest.importorskip("resvg_py", reason="the extra `png` is not installed")
    svg = draw_svg(band, BARE)
    one, other = (p.astype(int)[:, :, :3] for p in (pixels(rendered(svg)), pixels(png_of(svg, 10))))
    high, wide = (min(a, b) for a, b in zip(one.shape[:2], other.shape[:2], strict=True))
    apart = np.abs(one[:high, :wide] - other[:high, :wide]).max(axis=2)
    assert np.mean(apart > 64) < 0.02


def test_a_png_of_our_own(band: Pattern, tmp_path: Path) -> None:
    """Written with the extra, the file has the beads' colours and says how fine it is."""
    pytest.importorskip("resvg_py", reason="the extra `png` is not installed")
    out = tmp_path / "band.png"
    save_picture(band, out, BARE, pixels_per_mm=8)
    svg = draw_svg(band, BARE)
    picture = out.read_bytes()
    assert (8000, 8000, 1) == fineness(picture)
    pairs = colours_at_middles(picture, svg, 8)
    assert [] == [pair for pair in pairs if pair[0] != pair[1]]


def test_too_fine_a_png_is_refused(band: Pattern) -> None:
    """A picture that would take gigabytes, or none, is a problem before it is begun."""
    pytest.importorskip("resvg_py", reason="the extra `png` is not installed")
    svg = draw_svg(band, BARE)
    for fine in (MOST_PIXELS**0.5, 0.0, float("nan"), float("inf"), -3.0):
        with pytest.raises(ProblemsError, match="to a millimetre"):
            png_of(svg, fine)


def test_without_the_extra_a_png_says_what_to_install(tmp_path: Path) -> None:
    """In a Python that cannot import the library, the problem names it, and no file is left."""
    out = tmp_path / "band.png"
    script = (
        "import sys; sys.modules['resvg_py'] = None\n"
        "from pathlib import Path\n"
        "from sealing import compiled\n"
        "from tracker.pictures.save import save_picture\n"
        "from tracker.problems import ProblemsError\n"
        "try:\n"
        f"    save_picture(compiled(2, 2).pattern, Path({str(out)!r}))\n"
        "except ProblemsError as error:\n"
        "    print(*error.lines())\n"
    )
    root = Path(__file__).parents[2]
    done = subprocess.run(
        [sys.executable, "-c", script],
        capture_output=True,
        text=True,
        check=True,
        env={"PYTHONPATH": f"{root}:{root / 'tests'}"},
    )
    assert f"{out}: picture: a PNG needs the library resvg-py" in done.stdout
    assert 'pip install "bead-row-tracker[png]"' in done.stdout
    assert [] == list(tmp_path.iterdir())
