import hashlib
import json
from collections.abc import Callable
from dataclasses import asdict

import pytest

from tracker.design.layout import repeat_rows
from tracker.design.model import Design, Layout, Size
from tracker.fit.model import Swatch, Wish

Read = Callable[..., Design]
Faults = Callable[..., list[str]]
SIZE = '[size]\nlength = "150 mm"\n'


def fit(*lines: str) -> tuple[str, str]:
    """The size replaced by a fit."""
    return (SIZE, "\n".join(["[fit]", *lines, ""]))


def test_a_fit_in_place_of_a_size(read: Read) -> None:
    """Wrist and ease, by name or by length; comfortable, and any row, unless said otherwise."""
    design = read(fit('wrist = "6 1/2 in"', 'ease = "snug"', "whole_repeats = true"))
    assert Wish(wrist=165.1, ease=6.0, whole_repeats=True) == design.fit
    assert Size() == design.size
    assert Wish(wrist=160.0, ease=12.0) == read(fit('wrist = "16 cm"')).fit
    assert Wish(wrist=160.0, ease=9.0) == read(fit('wrist = "16 cm"', 'ease = "9 mm"')).fit


def test_a_swatch(read: Read) -> None:
    """Rows and length, and the width if it was measured."""
    swatch = '\n[gauge]\nrows = 20\nlength = "51 mm"\n'
    assert Swatch(rows=20, length=51.0) == read((SIZE, SIZE + swatch)).swatch
    wide = read((SIZE, SIZE + swatch + 'width = "14 mm"\n')).swatch
    assert Swatch(rows=20, length=51.0, width=14.0) == wide


def test_without_fit_and_swatch_the_digest_is_the_one_it_was(read: Read) -> None:
    """The digest over the values that there were before these tables is still the same."""
    design = read()
    old = ("name", "stitch", "columns", "size", "tile", "seed", "colours", "layout", "thread")
    values = {k: v for k, v in asdict(design).items() if k in old}
    said = json.dumps({"format": 1, **values}, sort_keys=True, separators=(",", ":"))
    assert f"sha256:{hashlib.sha256(said.encode()).hexdigest()}" == design.digest


def test_fit_and_swatch_change_the_digest(read: Read) -> None:
    """Whatever they say counts, however it is spelt."""
    swatch = '[gauge]\nrows = 20\nlength = "51 mm"\n'
    designs = [
        read(),
        read(fit('wrist = "16 cm"')),
        read(fit('wrist = "161 mm"')),
        read(fit('wrist = "16 cm"', 'ease = "snug"')),
        read(fit('wrist = "16 cm"', "whole_repeats = true")),
        read((SIZE, SIZE + swatch)),
        read((SIZE, SIZE + swatch + 'width = "14 mm"\n')),
    ]
    assert len(designs) == len({design.digest for design in designs})
    assert designs[1].digest == read(fit('wrist = "160 mm"', 'ease = "comfortable"')).digest


@pytest.mark.parametrize(
    ("lines", "fault"),
    [
        (["ease = 'snug'"], "fit.wrist: is missing; write a length with its unit"),
        (['wrist = "16 mm"'], 'fit.wrist: "16 mm" is out of range; write a length from 80 mm to'),
        (['wrist = "16 cm"', 'ease = "tight"'], 'fit.ease: "tight" is no length; write "snug", '),
        (['wrist = "16 cm"', "ease = 12"], "fit.ease: should be text, not the number 12; write"),
        (['wrist = "16 cm"', 'ease = "11 cm"'], "fit.ease: is out of range; write a length up to"),
        (['wrist = "16 cm"', "girth = 1"], "fit.girth: is no known key; the keys are wrist,"),
        (['wrist = "16 cm"', "whole_repeats = 1"], "fit.whole_repeats: should be true or false"),
    ],
)
def test_a_spoilt_fit(faults: Faults, lines: list[str], fault: str) -> None:
    """Each slip is one problem, with its place and its mend."""
    (line,) = faults(fit(*lines))
    assert line.startswith(f"band.design.toml: {fault}")


@pytest.mark.parametrize(
    ("table", "fault"),
    [
        ('rows = 3\nlength = "51 mm"', "gauge.rows: the number 3 is out of range; write a whole"),
        ("rows = 20", "gauge.length: is missing; write a length with its unit"),
        ('rows = 20\nlength = "51"', 'gauge.length: "51" is no length; write a number'),
        ('rows = 20\nlength = "51 mm"\nwidth = 14', "gauge.width: should be a length in quotes"),
        ('rows = 20\nlength = "51 mm"\nbeads = 2', "gauge.beads: is no known key; the keys are"),
    ],
)
def test_a_spoilt_swatch(faults: Faults, table: str, fault: str) -> None:
    """Each slip is one problem, with its place and its mend."""
    (line,) = faults((SIZE, f"{SIZE}[gauge]\n{table}\n"))
    assert line.startswith(f"band.design.toml: {fault}")


def test_size_or_fit_not_both(faults: Faults) -> None:
    """A band cannot be made to a length and to a wrist."""
    (line,) = faults((SIZE, SIZE + '[fit]\nwrist = "16 cm"\n'))
    expected = "fit: goes in place of size, and both are there; keep one of the two"
    assert f"band.design.toml: {expected}" == line


@pytest.mark.parametrize(
    ("layout", "rows"),
    [
        (Layout(seeds="S", kind="lanes", lines=("BAAB",)), 1),
        (Layout(seeds="S", kind="rows", lines=tuple("AABBCC")), 6),
        # There and back, the stripes at the turning points not doubled: AABBCCBB.
        (Layout(seeds="S", kind="rows", lines=tuple("AABBCC"), mirror=True), 8),
        (Layout(seeds="S", kind="chart", lines=("BAAB", "ABBA", "AAAA")), 6),
    ],
)
def test_rows_of_a_repeat(layout: Layout, rows: int) -> None:
    """A letter a row, a line of a chart two rows; lengthwise stripes end anywhere."""
    assert rows == repeat_rows(layout)
