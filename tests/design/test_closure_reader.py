"""The closure of a design: read, given its defaults, refused with a place and a mend."""

from collections.abc import Callable

import pytest
from design_texts import GOOD, STITCHES

from tracker.design.model import NO_CLOSURE, Design
from tracker.design.reader import parse_design

Read = Callable[..., Design]
Faults = Callable[..., list[str]]
THREAD = "[thread]"


def closed(text: str) -> tuple[str, str]:
    """The change that puts a closure into the good design."""
    return (THREAD, f"[closure]\n{text}\n\n{THREAD}")


def test_no_closure(read: Read) -> None:
    """Without the table, or with "none", the band ends with its last row."""
    assert NO_CLOSURE == read().closure
    assert NO_CLOSURE == read(closed('kind = "none"')).closure


def test_digest_of_a_design_without_a_closure(read: Read) -> None:
    """A design that names none keeps the digest that it had before there were closures."""
    # Taken from the tracker when designs had no closure.
    before = "sha256:9fadfc619ac9355fd879757518d3fef326f2fe0c86dd40eb5f39f26876cff65d"
    assert before == read().digest
    assert before == read(closed('kind = "none"')).digest
    assert before != read(closed('kind = "wire guards"')).digest


@pytest.mark.parametrize(
    ("kind", "length"),
    [("wire guards", 25.0), ("bead loops", 15.0), ("ribbon ends", 25.0), ("button loop", 8.0)],
)
def test_defaults(read: Read, kind: str, length: float) -> None:
    """Each kind has a usual length (common practice); its loops have the seeds' colour."""
    closure = read(closed(f'kind = "{kind}"')).closure
    assert (kind, length, "S") == (closure.kind, closure.length, closure.colour)
    assert (2 if kind == "bead loops" else 0) == closure.rings


def test_everything_said(read: Read) -> None:
    """Length, rings and colour are those of the file."""
    text = 'kind = "bead loops"\nlength = "1.2 cm"\nrings = 1\ncolour = "A"'
    closure = read(closed(text)).closure
    assert (12.0, 1, "A") == (closure.length, closure.rings, closure.colour)


@pytest.mark.parametrize(
    ("text", "where", "what"),
    [
        ('kind = "wire guard"', "closure.kind", 'did you mean "wire guards"?'),
        ("kind = 3", "closure.kind", "should be text"),
        ('length = "12 mm"', "closure.kind", "is missing"),
        ('kind = "bead loops"\nrings = 3', "closure.rings", "is out of range"),
        ('kind = "bead loops"\nrings = 0', "closure.rings", "is out of range"),
        ('kind = "button loop"\nrings = 2', "closure.rings", "goes with bead loops"),
        ('kind = "none"\ncolour = "A"', "closure.colour", "this is none"),
        ('kind = "wire guards"\ncolour = "X"', "closure.colour", "is no colour's letter"),
        ('kind = "wire guards"\nlength = 12', "closure.length", "a length in quotes"),
        ('kind = "wire guards"\nsize = "12 mm"', "closure.size", "is no known key"),
    ],
)
def test_refused(faults: Faults, text: str, where: str, what: str) -> None:
    """Each slip is told with its place, once."""
    (line,) = faults(closed(text))
    assert line.startswith(f"band.design.toml: {where}: ")
    assert what in line


def test_no_table(faults: Faults) -> None:
    """A closure that is no table is told off."""
    (line,) = faults(("columns = 2", 'columns = 2\nclosure = "wire guards"'))
    assert line.startswith("band.design.toml: closure: should be a table")


def test_too_wide_and_too_short(faults: Faults) -> None:
    """Closures are worked out for 2 to 12 columns and bands of 4 rows or more."""
    wide = (("columns = 2", "columns = 13"), ("BAAB", "BA" * 13))
    (line,) = faults(*wide, closed('kind = "ribbon ends"'))
    assert "a closure goes with 2 to 12 columns, this band has 13" in line
    (line,) = faults(('length = "150 mm"', "rows = 3"), closed('kind = "ribbon ends"'))
    assert "a closure goes with 4 rows or more, this band has 3" in line


def test_bead_called_like_a_finding(faults: Faults) -> None:
    """A bead that bears the name of a finding would be taken for it."""
    bead = ('tile = "half tile"', 'tile = { like = "half tile", name = "button" }')
    (line,) = faults(bead, closed('kind = "button loop"'))
    assert line.startswith("band.design.toml: beads.tile: ")
    assert "button" == parse_design(GOOD.replace(*bead), stitches=STITCHES).tile.name
