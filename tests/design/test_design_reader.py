from collections.abc import Callable

import pytest

from tracker.beads.catalogue import seeds, tiles
from tracker.design.model import Colour, Design, Layout, Size, Thread

Read = Callable[..., Design]
Faults = Callable[..., list[str]]


def test_a_design_is_read_whole(read: Read) -> None:
    """Every value of the file stands in the design, lengths in millimetres."""
    expected = Design(
        name="Harbour lights",
        stitch="two-hole herringbone",
        columns=2,
        size=Size(length=150.0),
        tile=tiles()["half tile"],
        seed=seeds()["15/0"],
        colours=(
            Colour("A", "lagoon", "#2a7f8e"),
            Colour("B", "sand", "#e8dcc0"),
            Colour("S", "smoke", "#6b6f76"),
        ),
        layout=Layout(seeds="S", kind="lanes", lines=("BAAB",)),
        thread=Thread(diameter=0.15, length=1800.0, tail=250.0),
    )
    assert expected == read()
    assert "sand" == read().colour("B").name
    with pytest.raises(KeyError):
        read().colour("Q")


def test_what_may_be_left_out_has_a_default(read: Read) -> None:
    """Without columns, size and thread: two columns, 160 mm, and the usual thread."""
    thread = '[thread]\ndiameter = "0.15 mm"\nlength = "1.8 m"\ntail = "250 mm"\n'
    design = read(("columns = 2\n", ""), ('[size]\nlength = "150 mm"\n', ""), (thread, ""))
    assert (2, Size(length=160.0)) == (design.columns, design.size)
    assert Thread(diameter=0.15, length=1800.0, tail=250.0) == design.thread


def test_a_chart_is_a_line_a_rank(read: Read) -> None:
    """Blank lines and indents set a chart off and mean nothing; either line ending does."""
    chart = ('lanes = "BAAB"', 'chart = """\n\n  BAAB\r\n  ABBA\n\n"""\nmirror = true')
    expected = Layout(seeds="S", kind="chart", lines=("BAAB", "ABBA"), mirror=True)
    assert expected == read(chart).layout


def test_rows_are_a_letter_each(read: Read) -> None:
    """A layout by rows has one line a letter and may be mirrored and centred."""
    rows = ('lanes = "BAAB"', 'rows = "AAB"\nmirror = true\ncentre = true')
    expected = Layout(seeds="S", kind="rows", lines=("A", "A", "B"), mirror=True, centre=True)
    assert expected == read(rows).layout


def test_a_size_in_rows(read: Read) -> None:
    """A band may be given by its rows instead of its length."""
    assert Size(rows=62) == read(('length = "150 mm"', "rows = 62")).size


def test_one_measure_overrides_a_shape(read: Read) -> None:
    """A measured hole spacing changes that measure, and the shape's name says so."""
    own = '{ like = "half tile", hole_spacing = "3.1 mm" }'
    tile = read(('"half tile"', own)).tile
    assert ("half tile, measured", 3.1, 2.3) == (tile.name, tile.hole_spacing, tile.passage)


def test_a_measured_seed_has_no_nominal_count(read: Read) -> None:
    """The trade's beads per gram no longer hold for a seed of other measures, but for a renamed."""
    measured = read(('"15/0"', '{ like = "15/0", diameter = "1.6 mm" }')).seed
    renamed = read(('"15/0"', '{ like = "15/0", name = "fine seed" }')).seed
    assert ("15/0, measured", None) == (measured.name, measured.per_gram)
    assert ("fine seed", 250.0) == (renamed.name, renamed.per_gram)


def test_a_bead_of_own_measures(read: Read) -> None:
    """A table of all measures needs no base; unnamed, the bead is the beader's own."""
    own = (
        '{ length = "6 mm", passage = "1/8 in", thickness = "2 mm", hole = "0.9 mm",'
        ' hole_spacing = "3.5 mm" }'
    )
    tile = read(('"half tile"', own)).tile
    assert ("own tile", 6.0, 3.175) == (tile.name, tile.length, tile.passage)


@pytest.mark.parametrize(
    ("old", "new", "fault"),
    [
        ('"BAAB"', '"BAA"', 'layout.lanes: "BAA" has 3 letters, 2 columns need 4; add 1 letter'),
        ('"BAAB"', '"BAABBA"', "take away 2 letters"),
        ('"BAAB"', '"BAaB"', 'layout.lanes: "a" is no colour\'s letter; write it as a capital, A'),
        ('"BAAB"', '"BAXB"', "add X to [colours], or use one of A, B, S"),
        ('"BAAB"', '"BA\\u001bB"', '"\\x1b" is no colour\'s letter'),
        ('"BAAB"', '""', "layout.lanes: is empty"),
        ('"BAAB"', '["B", "A"]', "layout.lanes: should be text, not a list"),
        ('lanes = "BAAB"', 'rows = ""', "layout.rows: is empty"),
        ('lanes = "BAAB"', 'rows = "A B"', 'layout.rows: " " is no colour\'s letter'),
        ('lanes = "BAAB"', f'rows = "{"A" * 5001}"', "layout.rows: has 5001 letters"),
        ('lanes = "BAAB"', 'chart = "\\n"', "layout.chart: is empty"),
        ('lanes = "BAAB"', 'chart = """\nBAAB\n\nBAB\n"""', 'layout.chart line 3: "BAB" has 3'),
        ('lanes = "BAAB"', f'chart = "{"BAAB|" * 2501}"'.replace("|", "\\n"), "has 2501 lines"),
        ('lanes = "BAAB"', 'lanes = "BAAB"\nrows = "A"', "layout: has lanes and rows; keep one"),
        ('lanes = "BAAB"', "", "layout: has none of lanes, rows and chart"),
        (
            'lanes = "BAAB"',
            'lane = "BAAB"',
            "layout.lane: is no known key; did you mean lanes",
        ),
        ('"BAAB"', '"BAAB"\nmirror = true', "layout.mirror: goes with rows or chart"),
        ('"BAAB"', '"BAAB"\ncentre = true', "layout.centre: goes with rows or chart"),
        (
            '"BAAB"',
            '"BAAB"\nmirror = 1',
            "layout.mirror: should be true or false, not the number 1",
        ),
        (
            'seeds = "S"',
            'seeds = "smoke"',
            'layout.seeds: "smoke" is not a letter; write the letter',
        ),
        ('seeds = "S"', 'seeds = "Q"', "add Q to [colours]"),
        ('seeds = "S"', 'seeds = "SS"', 'layout.seeds: "SS" is not one letter'),
        ('seeds = "S"\n', "", "layout.seeds: is missing"),
        ("columns = 2", "columns = 1", "columns: the number 1 is out of range"),
        ("columns = 2", "columns = 41", "write a whole number from 2 to 40"),
        ("columns = 2", "columns = 2.0", "columns: should be a whole number, not the number 2.0"),
        ("columns = 2", "columns = true", "columns: should be a whole number, not true or false"),
        ("columns = 2", "columns = 2026-11-25", "not a date or time"),
        ("columns = 2", f"columns = 0x{'f' * 5000}", "columns: a far larger number"),
        ("columns", "colums", "colums: is no known key; did you mean columns?"),
        ('name = "Harbour lights"\n', "", "name: is missing"),
        ("Harbour lights", "  ", "name: is empty"),
        ("Harbour lights", "x" * 61, "name: is 61 characters long; shorten it to 60 or fewer"),
        ("Harbour lights", "a\\u001b[31m", "name: holds a character that cannot be shown, U+001B"),
        ("Harbour lights", "a\\u202eb", "U+202E"),
        ("two-hole herringbone", "two-hole herringbon", 'did you mean "two-hole herringbone"?'),
        ("two-hole herringbone", "crochet", "choose one of: two-hole herringbone, two-hole brick"),
        ('length = "150 mm"', "length = 150", "size.length: should be a length in quotes, not the"),
        (
            'length = "150 mm"',
            f"length = 0x{'f' * 5000}",
            "not a far larger number; write a length",
        ),
        ('length = "150 mm"', 'length = "150"', 'size.length: "150" is no length; write a number'),
        ('length = "150 mm"', 'length = "9 mm"', "write a length from 10 mm to 10000 mm"),
        ('length = "150 mm"', "", "size: is empty"),
        ('length = "150 mm"', 'length = "15 cm"\nrows = 9', "size: has a length and rows"),
        ('length = "150 mm"', "rows = 1", "write a whole number from 2 to 5000"),
        ("[size]", "[size.more]", "size.more: is no known key"),
        (
            "format = 1",
            'format = "1"',
            "format: should be a whole number, not text; write format = 1",
        ),
        ("format = 1", "format = 0", "write format = 1"),
        ("format = 1\n", "", "format: is missing; write format = 1"),
        (
            '"half tile"',
            '"halftile"',
            'beads.tile: "halftile" is not known; did you mean "half tile"',
        ),
        ('"half tile"', "3", "beads.tile: should be text, not the number 3; name one, such as"),
        ('"half tile"', '{ like = "15/0" }', "beads.tile.like"),
        ('"15/0"', '{ hole = "0.6 mm", length = "1.1 mm" }', "beads.seed.diameter: is missing"),
        ('"15/0"', '{ like = "15/0", hole = "2 mm" }', "does not fit a seed 1.5 mm across"),
        ('"15/0"', '{ like = "15/0", name = "8/0" }', 'beads.seed.name: "8/0" is another bead\'s'),
        ('"15/0"', '{ like = "15/0", name = "half tile" }', "beads.seed.name"),
        ('"half tile"', '{ like = "half tile", hole_spacing = 3.1 }', 'such as "3.1 mm"'),
        (
            '"half tile"',
            '{ like = "half tile", hole = "1.9 mm" }',
            "does not fit a tile 1.9 mm thick",
        ),
        ('"half tile"', '{ like = "half tile", hole_spacing = "0.7 mm" }', "run into each other"),
        ('"half tile"', '{ like = "half tile", hole_spacing = "4.3 mm" }', "break out of a tile"),
        ('"half tile"', '{ like = "half tile", hole = "0.1 mm" }', "is thicker than the smallest"),
        ('A = { name = "lagoon"', 'a = { name = "lagoon"', "colours.a: is not one capital letter"),
        (
            'A = { name = "lagoon"',
            'AB = { name = "lagoon"',
            "colours.AB: is not one capital letter",
        ),
        ('"#2a7f8e"', '"teal"', 'colours.A.hex: "teal" is no colour code; write # and six'),
        ('name = "sand"', 'name = "Lagoon"', 'colours.B: "Lagoon" is the name of A too'),
        ('{ name = "sand", hex = "#E8DCC0" }', '"sand"', "colours.B: should be a table, not text"),
        ('diameter = "0.15 mm"', 'diameter = "0.7 mm"', "thicker than the smallest hole, 0.6 mm"),
        ('tail = "250 mm"', 'tail = "2 m"', "thread.tail: 2000 mm leaves nothing"),
        ("[thread]", "[thread]\ncolour = 1", "thread.colour: is no known key"),
    ],
)
def test_each_fault_is_named_with_its_place_and_mend(
    faults: Faults, old: str, new: str, fault: str
) -> None:
    """A spoilt value gives a printable line that names the place and what to do."""
    lines = faults((old, new))
    assert any(fault in line for line in lines), lines
    assert all(line.isprintable() and line.startswith("band.design.toml: ") for line in lines)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("[colours]", "[colors]"),
        ('"#6b6f76"', '"grey"'),
        ('seed = "15/0"', 'sed = "15/0"'),
        ("columns = 2", "columns = 1"),
        ('"half tile"', '{ like = "half tie", hole = "0.9 mm" }'),
    ],
)
def test_one_slip_is_one_problem(faults: Faults, old: str, new: str) -> None:
    """A slip does not drag along complaints about what depends on it."""
    assert 1 == len(faults((old, new)))


def test_every_problem_is_reported_at_once(faults: Faults) -> None:
    """Six slips in six tables make six lines, in the order of the format."""
    lines = faults(
        ("two-hole herringbone", "knitting"),
        ('"150 mm"', '"150"'),
        ('"half tile"', '"whole tile"'),
        ("#2a7f8e", "blue"),
        ("BAAB", "BAA"),
        ('tail = "250 mm"', "tail = 250"),
    )
    places = ["stitch", "size.length", "beads.tile", "colours.A.hex", "layout.lanes", "thread.tail"]
    assert places == [line.split(": ")[1] for line in lines]


def test_a_newer_format_is_told_apart(faults: Faults) -> None:
    """A later format is refused for itself alone: its other keys may mean anything."""
    what = "format 2 needs a newer tracker; this one reads format 1"
    expected = [f"band.design.toml: format: {what}; update the tracker"]
    assert expected == faults(("format = 1", "format = 2"), ("[size]", "[extent]"))


def test_of_very_many_unknown_keys_the_first_are_named(faults: Faults) -> None:
    """A thousand slips are no thousand lines: twenty are named, the rest is counted."""
    slips = "".join(f"slip{number} = 1\n" for number in range(1020))
    lines = faults(("columns = 2\n", f"columns = 2\n{slips}"))
    assert [f"slip{number}" for number in range(20)] == [line.split(": ")[1] for line in lines[:20]]
    [more] = lines[20:]
    assert more.startswith("band.design.toml: file: holds 1,000 more keys that are not known; ")
