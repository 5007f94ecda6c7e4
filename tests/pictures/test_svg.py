"""The band as SVG: what is drawn, what is asked for, and that nothing comes from elsewhere."""

import math
import re
import xml.etree.ElementTree as ET
from collections import Counter
from dataclasses import replace
from itertools import pairwise

import pytest
from drawn import SVG, boxes
from hypothesis import given, settings
from hypothesis import strategies as st
from sealing import compiled
from weaving import a_design, layouts

from tracker.colours.srgb import contrast
from tracker.design.model import Colour
from tracker.path.plane import Mouths
from tracker.pattern.compiler import compile_design
from tracker.pattern.model import Pattern
from tracker.pictures.sheet import Drawing
from tracker.pictures.svg import draw_svg
from tracker.problems import ProblemsError

BARE = Drawing(words=False, scales=False)


@pytest.fixture(scope="module")
def band() -> Pattern:
    """Three columns, nine rows."""
    return compiled(3, 9).pattern


def parsed(svg: str) -> ET.Element:
    """The root element; an error if the drawing is not well formed."""
    return ET.fromstring(svg)  # noqa: S314  our own drawing


def texts(svg: str) -> list[str]:
    """What stands in the drawing as text."""
    return [node.text or "" for node in parsed(svg).iter(SVG + "text")]


@settings(max_examples=20, deadline=None)
@given(columns=st.integers(2, 4), rows=st.integers(2, 9), data=st.data())
def test_every_bead_is_drawn_once_in_its_place_and_colour(
    columns: int, rows: int, data: st.DataObject
) -> None:
    """The faces found in the drawing are the beads of the path, to a hundredth of a millimetre."""
    layout = data.draw(layouts(columns))
    pattern = compile_design(a_design(columns, rows, layout=layout)).pattern
    svg = draw_svg(pattern, BARE)
    hexes = {colour.letter: colour.hex for colour in pattern.colours}
    beads = [bead for row in pattern.path().rows for bead in row.beads]
    for kind in ("tile", "seed"):
        found = boxes(svg, kind)
        mine = [bead for bead in beads if bead.kind == kind]
        assert len(mine) == len(found)
        # The lowest corner of the picture is not that of the plane: hold one against the other.
        first = min(found, key=lambda box: (round(box.middle[0], 2), round(box.middle[1], 2)))
        near = min(mine, key=lambda bead: (round(bead.place.x, 2), -round(bead.place.y, 2)))
        right, down = first.middle[0] - near.place.x, first.middle[1] + near.place.y
        placed = Counter(
            (round(box.middle[0] - right, 2) + 0.0, round(down - box.middle[1], 2) + 0.0, box.fill)
            for box in found
        )
        assert placed == Counter((bead.place.x, bead.place.y, hexes[bead.colour]) for bead in mine)


def test_same_pattern_same_bytes(band: Pattern) -> None:
    """Drawn again, from the pattern compiled again, nothing differs."""
    drawing = Drawing(thread=True, letters=True, row=4)
    again = compile_design(a_design(3, 9)).pattern
    assert draw_svg(band, drawing) == draw_svg(again, drawing)


def test_nothing_is_fetched(band: Pattern) -> None:
    """Every reference is to the drawing itself, and it holds no script and no style sheet."""
    root = parsed(draw_svg(band, Drawing(thread=True, letters=True, row=4)))
    ids = {node.attrib["id"] for node in root.iter() if "id" in node.attrib}
    for node in root.iter():
        assert node.tag.removeprefix(SVG) not in {"script", "style", "image", "foreignObject", "a"}
        for key, value in node.attrib.items():
            assert not key.startswith("on")
            assert "url(" not in value
            if key.endswith("href"):
                assert value.removeprefix("#") in ids


@pytest.mark.parametrize("name", ['<b>&"', "]]><script>alert(1)</script>", "a\u202eb", "&amp;"])
def test_names_are_text(band: Pattern, name: str) -> None:
    """A name full of markup is written as what it is, control and format characters spelt out."""
    odd = replace(
        band, name=name, colours=tuple(replace(c, name=name) for c in band.colours), digest=""
    )
    shown = name.replace("\u202e", "\\u202e")
    said = texts(draw_svg(odd))
    assert shown == said[0]
    assert 3 == sum(f": {shown}, " in text for text in said)


def test_letters_stand_on_tiles_and_can_be_read(band: Pattern) -> None:
    """Each kind of tile bears its colour's letter in an ink of 4.5 to 1, and without them none."""
    assert [] == texts(draw_svg(band, BARE))
    svg = draw_svg(band, replace(BARE, letters=True))
    tiles = [g for g in parsed(svg).iter(SVG + "g") if g.get("id", "").startswith("tile-")]
    assert {"A", "B"} == {found.text for g in tiles if (found := g.find(SVG + "text")) is not None}
    for g in tiles:
        letter, face = g.find(SVG + "text"), next(g.iter(SVG + "rect"))
        assert letter is not None
        assert f"-{letter.text}-" in g.attrib["id"]
        assert contrast(letter.attrib["fill"], face.attrib["fill"]) >= 4.5


def test_real_size_and_a_width(band: Pattern) -> None:
    """One unit is one millimetre; fitted to a width, both sides are scaled by the same."""
    real, fitted = (parsed(draw_svg(band, Drawing(width=width))) for width in (None, 300.0))
    _, _, wide, high = (float(figure) for figure in real.attrib["viewBox"].split())
    assert (f"{wide:g}mm", f"{high:g}mm") == (real.attrib["width"], real.attrib["height"])
    assert real.attrib["viewBox"] == fitted.attrib["viewBox"]
    assert "300mm" == fitted.attrib["width"]
    height = float(fitted.attrib["height"].removesuffix("mm"))
    assert 300 * high / wide == pytest.approx(height, abs=0.02)


def test_the_scales_are_those_of_a_ruler(band: Pattern) -> None:
    """A tick at each millimetre of the band and at each eighth of an inch, from its edge on."""
    svg = draw_svg(band, Drawing(words=False))
    corners = [corner for box in boxes(svg, "") for corner in box.corners]
    left, right = min(x for x, _ in corners), max(x for x, _ in corners)
    # The rows' own scale comes first.
    mm, inches = [
        [float(x) for x in re.findall(r"M([\d.]+) [\d.]+v", node.attrib["d"])]
        for node in parsed(svg).findall(SVG + "path")
    ][-2:]
    assert mm[0] == inches[0] == pytest.approx(left, abs=0.006)
    assert [mm[0] + i for i in range(len(mm))] == pytest.approx(mm, abs=0.002)
    assert [mm[0] + 25.4 / 8 * i for i in range(len(inches))] == pytest.approx(inches, abs=0.002)
    assert 0 <= mm[-1] - right < 1
    assert 0 <= inches[-1] - right < 25.4 / 8


def test_a_row_pointed_out(band: Pattern) -> None:
    """The row stands at full strength, named; all others are in one faded group."""
    svg = draw_svg(band, Drawing(row=4, words=False, scales=False))
    assert ["row 4, down"] == texts(svg)
    (faded,) = [g for g in parsed(svg).iter(SVG + "g") if "opacity" in g.attrib]
    assert 2 * (band.row_count - 1) == len(faded)
    x = f"{band.row(3).origin:g}"
    assert x not in {use.get("x") for use in faded}


def test_some_rows(band: Pattern) -> None:
    """Of the rows 3 to 5 just the beads are drawn, and the paper is as long as they are."""
    svg = draw_svg(band, replace(BARE, rows=(3, 5)))
    expected = Counter(bead.kind for row in (2, 3, 4) for bead in band.row(row).beads)
    assert expected == Counter(box.name.split("-")[0] for box in boxes(svg, ""))
    wide = float(parsed(svg).attrib["viewBox"].split()[2])
    assert wide < float(parsed(draw_svg(band, BARE)).attrib["viewBox"].split()[2]) / 1.5


def test_the_thread_is_the_whole_path(band: Pattern) -> None:
    """Its length in the drawing is that of the path, mouth to mouth."""
    svg = draw_svg(band, replace(BARE, thread=True))
    root = parsed(svg)
    paths = {n.attrib["id"]: n.attrib["d"] for n in root.iter(SVG + "path") if "id" in n.attrib}
    (thread,) = [g for g in root.iter(SVG + "g") if g.get("id") == "thread"]
    drawn = 0.0
    for part in thread:
        inner = part if part.tag == SVG + "use" else part[0]
        name = inner.get("href", "").removeprefix("#") or inner.attrib["id"]
        points = [
            tuple(float(figure) for figure in point.split())
            for point in paths[name].removeprefix("M").split("L")
        ]
        drawn += sum(math.dist(p, q) for p, q in pairwise(points))
    path = band.path()
    mouths = Mouths(path.shapes)
    beads = {bead.id: bead for row in path.rows for bead in row.beads}
    way = []
    for row in path.rows:
        for step in row.steps:
            for bead, hole, up, _ in step.passes:
                ends = mouths.ends(beads[bead], hole, up)
                way += [ends[:2], ends[2:]]
    assert sum(math.dist(p, q) for p, q in pairwise(way)) == pytest.approx(drawn, rel=1e-3)
    assert "thread" not in draw_svg(band, BARE)


@pytest.mark.parametrize(
    ("drawing", "said"),
    [
        (Drawing(row=0), "there is no row 0; choose one from 1 to 9"),
        (Drawing(row=10), "there is no row 10; choose one from 1 to 9"),
        (Drawing(rows=(2, 12)), "there is no row 12; choose one from 1 to 9"),
        (Drawing(rows=(5, 3)), "the rows are not in order: 5, 3"),
        (Drawing(rows=(1, 3), row=5), "the rows are not in order: 1, 5, 3"),
        (Drawing(width=0.0), "0 mm is no width; choose one above 0"),
        (Drawing(width=math.inf), "inf mm is no width"),
    ],
)
def test_what_cannot_be_drawn_is_a_problem(band: Pattern, drawing: Drawing, said: str) -> None:
    """A row that there is not, or a width that is none, is told with what there is."""
    with pytest.raises(ProblemsError) as caught:
        draw_svg(band, drawing)
    (line,) = caught.value.lines()
    assert said in line


def test_a_row_like_another_costs_a_line_a_layer() -> None:
    """However wide the band, another hundred rows of the same kinds take under 100 bytes each."""
    short, long = (draw_svg(compiled(10, rows).pattern, BARE) for rows in (100, 200))
    assert 2_000 == len(boxes(long, "tile"))
    assert len(long) - len(short) < 100 * 100


def test_wide_letters_are_given_room() -> None:
    """A name in wide script makes the paper wider than one of as many narrow letters."""
    pattern = compiled(2, 2).pattern
    wide, narrow = (
        float(parsed(draw_svg(replace(pattern, name=name))).attrib["viewBox"].split()[2])
        for name in ("\u706f" * 60, "n" * 60)
    )
    assert wide > narrow * 1.3


def test_colours_in_the_list_are_named(band: Pattern) -> None:
    """The list has each kind of bead with its letter, its name, its shape and its count."""
    odd = replace(band, colours=(Colour("A", "lagoon", "#2a7f8e"), *band.colours[1:]))
    assert {
        "A: lagoon, half tile (15)",
        "B: sand, half tile (12)",
        f"S: smoke, 15/0 ({band.totals['sS']})",
    } <= set(texts(draw_svg(odd)))
