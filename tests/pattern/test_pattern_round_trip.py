"""What is compiled is what is read: patterns, rows and bytes."""

import hashlib
import os
import subprocess
import sys
import tomllib
from dataclasses import replace
from pathlib import Path

import pytest
import weaving
from hypothesis import given, settings
from hypothesis import strategies as st
from sealing import compiled
from weaving import STITCH, a_design, layouts

from tracker.beads.catalogue import seeds, tiles
from tracker.beads.model import Shape
from tracker.path.model import Bead, Heading, Hole, Pass, Place, Row, Step
from tracker.pattern.compiler import compile_design, prove_pattern
from tracker.pattern.notation import LINE, PLACES, decode, encode, encode_places
from tracker.pattern.reader import parse_pattern, read_pattern
from tracker.pattern.writer import write

BANDS = [(2, 2), (2, 3), (2, 62), (3, 9), (7, 12)]
SHAPES: dict[str, Shape] = {"t": tiles()["half tile"], "s": seeds()["15/0"]}
LETTERS = {shape.name: letter for letter, shape in SHAPES.items()}


@pytest.mark.parametrize(("columns", "rows"), BANDS)
def test_read_back_is_what_was_written(columns: int, rows: int) -> None:
    """Reading a pattern's text gives the pattern, and writing that the same bytes."""
    band = compiled(columns, rows)
    again = parse_pattern(band.text)
    assert band.pattern == again
    assert band.pattern.digest == again.digest
    assert band.text == write(again)


@pytest.mark.parametrize(("columns", "rows"), BANDS)
def test_decoded_rows_are_the_woven_rows(columns: int, rows: int) -> None:
    """The path in the file is the path as woven, bead by bead, place by place."""
    path = STITCH.weave(a_design(columns, rows), rows)
    pattern = compiled(columns, rows).pattern
    assert path.rows == pattern.path().rows
    # What a shop says of a gram is no measure of the weave, and is not kept.
    measures = {**path.shapes, "15/0": replace(seeds()["15/0"], per_gram=None)}
    assert measures == pattern.path().shapes
    assert list(path.rows) == [pattern.row(i) for i in range(pattern.row_count)]
    assert () == prove_pattern(pattern).faults


@given(st.data(), st.integers(2, 5), st.integers(2, 14))
@settings(max_examples=30, deadline=None)
def test_any_layout_is_read_back(data: st.DataObject, columns: int, rows: int) -> None:
    """Whatever the layout, the file's rows are the woven ones."""
    design = a_design(columns, rows, layout=data.draw(layouts(columns)))
    pattern = compile_design(design).pattern
    assert STITCH.weave(design, rows).rows == pattern.path().rows
    assert design.digest == pattern.design


def test_counts_from_the_lines_are_those_of_the_rows() -> None:
    """Steps, beads and thread counted from the text are those of the decoded rows."""
    pattern = compiled(3, 9).pattern
    rows = [pattern.row(i) for i in range(pattern.row_count)]
    assert [len(row.steps) for row in rows] == [pattern.steps_in(i) for i in range(9)]
    assert [row.section for row in rows] == list(pattern.section_names)
    assert [row.beads[0].id for row in rows] == list(pattern.first_beads)
    for row, counted in zip(rows, pattern.picked_up, strict=True):
        assert len(row.beads) == counted.total()
    beads = [bead for row in rows for bead in row.beads]
    assert beads == [pattern.bead(bead.id) for bead in beads]
    thread = [0.0]
    for row in rows:
        thread.append(thread[-1] + row.thread)
    assert pytest.approx(thread) == pattern.thread_before
    assert [("tA", 15), ("tB", 12), ("sS", 50)] == [
        (key, pattern.totals[key]) for key, _ in pattern.kinds()
    ]


def test_same_design_same_bytes() -> None:
    """Compiling twice gives the same bytes."""
    assert compile_design(a_design(3, 20)).text == compile_design(a_design(3, 20)).text


@pytest.mark.parametrize("seed", ["0", "4711"])
def test_same_bytes_in_another_process(seed: str) -> None:
    """Another process, whose sets and dictionaries hash otherwise, writes the same bytes."""
    code = (
        "import hashlib; from weaving import a_design;"
        "from tracker.pattern.compiler import compile_design;"
        "print(hashlib.sha256(compile_design(a_design(3, 20)).text.encode()).hexdigest())"
    )
    folder = Path(weaving.__file__).parent
    path = os.pathsep.join([str(folder), str(folder.parent)])
    done = subprocess.run(
        [sys.executable, "-c", code],
        env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": path},
        capture_output=True,
        text=True,
        check=True,
    )
    text = compile_design(a_design(3, 20)).text
    assert hashlib.sha256(text.encode()).hexdigest() == done.stdout.strip()


def test_file_is_toml_that_a_person_can_read() -> None:
    """Any TOML reader reads it; a row is a line of text, not an array."""
    values = tomllib.loads(compiled().text)
    assert [1, "Harbour lights", 2] == [values[key] for key in ("format", "name", "columns")]
    assert {"tile", "seed"} == {shape["kind"] for shape in values["shapes"].values()}
    lines = "".join(section["rows"] for section in values["sections"]).splitlines()
    assert 6 == len(lines)
    assert "3 up 15 4.81 3 20.5: sS tA 13 !3 12b | sS tA 11 | turn sS sS 18b<" == lines[2]


def test_file_on_disk(tmp_path: Path) -> None:
    """A pattern is read from a file, also from a copy whose lines end as on another system."""
    text = compiled().text
    for name, data in (("a", text.encode()), ("b", text.replace("\n", "\r\n").encode())):
        (tmp_path / name).write_bytes(data)
        assert compiled().pattern == read_pattern(tmp_path / name)
        assert compiled().pattern.digest == read_pattern(tmp_path / name).digest


def test_names_that_toml_must_escape() -> None:
    """A name with quotes, backslashes and letters of any script comes back as it is."""
    design = replace(a_design(), name='Tom\'s "\\n" \u2603 \u6ce2 ]]')
    assert design.name == compile_design(design).pattern.name


@st.composite
def rows(draw: st.DrawFn) -> Row:
    """Any row that a line can tell, woven or not."""
    first, number = draw(st.integers(0, 10**6)), draw(st.integers(1, 10**4))
    heading: Heading = draw(st.sampled_from(("up", "down")))
    up = heading == "up"
    hundredths = st.integers(-(10**6), 10**6)
    origin = draw(hundredths) / 100
    beads: list[Bead] = []
    holes: st.SearchStrategy[Hole] = st.sampled_from(("", "a", "b"))
    steps = []
    for _ in range(draw(st.integers(1, 4))):
        passes = []
        for picked_up in draw(st.lists(st.booleans(), min_size=1, max_size=5)):
            way = up != draw(st.booleans())
            if not picked_up:
                bead = draw(st.integers(0, first + len(beads)))
                passes.append(Pass(bead, draw(holes), way, picked_up=False))
                continue
            shape = SHAPES[draw(st.sampled_from("ts"))]
            place = Place(
                round(origin + draw(hundredths) / 100, 2) + 0.0,
                draw(hundredths) / 100,
                draw(st.integers(-1800, 1800)) / 10,
            )
            bead = first + len(beads)
            beads.append(Bead(bead, shape.kind, shape.name, draw(st.sampled_from("ABZ")), place))
            passes.append(Pass(bead, "a" if shape.kind == "tile" else "", way, picked_up=True))
        by = tuple(draw(st.lists(st.integers(0, 10**6), max_size=2)))
        steps.append(Step(tuple(passes), draw(st.booleans()), by))
    thread = draw(st.integers(0, 10**6)) / 10
    return Row(number, "rows", heading, origin, tuple(beads), tuple(steps), thread)


@given(rows())
@settings(max_examples=300, deadline=None)
def test_any_row_as_a_line_and_back(row: Row) -> None:
    """The notation keeps every row: numbers, ways, holes, marks and places."""
    first = row.beads[0].id if row.beads else 0
    line, places = encode(row, LETTERS, first, 1 if row.beads else 0), encode_places(row)
    assert LINE.fullmatch(line)
    assert PLACES.fullmatch(places) or not row.beads
    assert row == decode(line, row.section, SHAPES, [places])
