"""docs/craft.md: the figures that it states are those that the tracker reckons with."""

import re

import pytest
from documents import CRAFT
from sealing import compiled

from tracker.beads.catalogue import needles, seeds, tiles
from tracker.beads.holes import PACKING_RATIO
from tracker.beads.mass import GLASS
from tracker.colours.warnings import APART
from tracker.fit.model import EASES
from tracker.path.words import listed
from tracker.reports import RULES


def numbers(text: str) -> list[float]:
    """The numbers in a text."""
    return [float(number) for number in re.findall(r"\d+(?:\.\d+)?", text)]


def row_of(start: str) -> list[str]:
    """The cells of the table's row that begins so."""
    (row,) = re.findall(rf"^\| {re.escape(start)}[^|]*\|(.*)\|$", CRAFT, re.MULTILINE)
    return [cell.strip() for cell in row.split("|")]


def test_beads_and_needles() -> None:
    """Density, hole spacings and needles as the catalogue has them."""
    assert [GLASS, 3] == numbers(row_of("density of glass")[0])
    spacings = {name: tile.hole_spacing for name, tile in tiles().items()}
    usual, oval = numbers(row_of("hole spacing")[0])
    assert {usual} == {h for name, h in spacings.items() if "oval" not in name}
    assert {oval} == {h for name, h in spacings.items() if "oval" in name}
    said = re.findall(r"(\d+): ([\d.]+)", row_of("needles")[0])
    assert said
    assert {(str(n.size), f"{n.eye:.2f}") for n in needles()} >= set(said)


def test_packing() -> None:
    """The ratios from which threads fit, to three decimals."""
    (said,) = re.findall(r"ratio of hole to thread of ([\d., ]+),", CRAFT)
    assert [round(PACKING_RATIO[n], 3) for n in range(1, 9)] == numbers(said)


def test_geometry() -> None:
    """Pitch, column and length of the half tile with 15/0, by the formulas and by the compiler."""
    gauge = compiled(2, 6).pattern.gauge
    three = compiled(3, 6).pattern.gauge
    tile, seed = tiles()["half tile"], seeds()["15/0"]
    pitch, column, length = (
        numbers(row_of(what)[1]) for what in ("row pitch", "width of a column", "length of *R*")
    )
    assert [f"{gauge.pitch:.2f}"] == [f"{x:.2f}" for x in pitch]
    assert pitch[0] == pytest.approx((tile.passage + seed.length) / 2**0.5, abs=0.005)
    assert column[0] == pytest.approx(three.width - gauge.width, abs=0.005)
    assert column[0] == pytest.approx(2**0.5 * (tile.length - seed.length), abs=0.005)
    assert length == [pytest.approx(gauge.start, abs=0.005), pytest.approx(gauge.pitch, abs=0.005)]
    assert [100 * gauge.pitch_spread] == numbers(row_of("row pitch")[2])
    assert [100 * gauge.width_spread] == numbers(row_of("width of a column")[2])
    assert [gauge.start_spread] == numbers(row_of("length of *R*")[2])


def test_other_figures() -> None:
    """Ease by its names, the least difference of colours, and as many rules as the proof has."""
    assert listed([f"{name} {ease:g}" for name, ease in EASES.items()], ", ") in CRAFT
    assert f"should be {APART:g} apart" in CRAFT
    rules = CRAFT[CRAFT.index("\n## The proof\n") :]
    assert [str(n + 1) for n in range(RULES)] == re.findall(r"^(\d+)\. ", rules, re.MULTILINE)
