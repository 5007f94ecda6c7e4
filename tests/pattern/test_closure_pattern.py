"""Patterns with a closure: written, read, refused when damaged, and what to have ready."""

from dataclasses import replace

import pytest
from sealing import CLOSURES, changed, closed, problems
from weaving import THREAD, a_design, closed_with, passes_of

from tracker.beads.catalogue import findings
from tracker.design.lengths import parse_length
from tracker.design.model import NO_CLOSURE, ClosureKind
from tracker.documents import supplies_document
from tracker.pattern.compiler import compile_design, prove_pattern
from tracker.pattern.reader import parse_pattern
from tracker.pattern.supplies import supplies_of
from tracker.pattern.writer import write
from tracker.problems import ProblemsError
from tracker.reports import proof_lines, summary

every_closure = pytest.mark.parametrize("kind", CLOSURES)


# --- files ------------------------------------------------------------------------------------


@every_closure
@pytest.mark.parametrize("rows", [4, 7])
@pytest.mark.parametrize("columns", [2, 5, 12])
def test_round_trip(kind: ClosureKind, columns: int, rows: int) -> None:
    """What is read back is what was written, to the byte, and proves again."""
    thread = replace(THREAD, tail=400.0)
    closure = closed_with(kind, columns)
    done = compile_design(a_design(columns, rows, closure=closure, thread=thread))
    again = parse_pattern(done.text)
    assert done.pattern == again
    assert done.text == write(again)
    assert closure == again.closure
    assert len(passes_of(again.path())) == prove_pattern(again).passes
    assert done.text == compile_design(a_design(columns, rows, closure=closure, thread=thread)).text


@every_closure
def test_woven_rows(kind: ClosureKind) -> None:
    """The rows that close the ends are rows like others, but the band has as many as before."""
    pattern = closed(kind).pattern
    assert 6 == pattern.woven_rows < pattern.row_count
    assert NO_CLOSURE != pattern.closure


HOSTILE = [
    ("=knot |", "=know |", "row 10", "is no row of moves"),
    ("=knot |", "=KNOT |", "row 10", "is no row of moves"),
    ("=knot |", "=knot 3 |", "row 10", "is no row of moves"),
    ("=knot |", "turn =knot |", "row 10", "is no row of moves"),
    ("=knot |", "= |", "row 10", "is no row of moves"),
    ("=trim |", "=trim | |", "row 10", "is no row of moves"),
    ('kind = "finding"', 'kind = "ring"', "shapes.u.kind", "is not known"),
    ('kind = "wire guards"', 'kind = "none"', "closure.kind", "is not known"),
    ('kind = "wire guards"', 'kind = "bead loops"', "closure", "does not go with this band"),
    ("rings = 0", "rings = 2", "closure", "does not go with this band"),
    ("rings = 0", "rings = -1", "closure.rings", "is out of range"),
    ('colour = "B"', 'colour = "b"', "closure.colour", "is not in its form"),
    ('length = "20 mm"', 'length = "20"', "closure.length", "is no length"),
    ('length = "20 mm"', 'length = "20 mm"\nhook = 1', "closure.hook", "is no known key"),
]


@pytest.mark.parametrize(("old", "new", "where", "what"), HOSTILE)
def test_damaged_files_are_refused(old: str, new: str, where: str, what: str) -> None:
    """Every new word of the file is checked, and what is wrong has its place."""
    found = problems(changed((old, new), text=closed("wire guards").text))
    assert any(line.startswith(f"band.pattern.toml: {where}: ") and what in line for line in found)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("=knot |", "=glue |"),
        ("| =tail |", "| =knot |"),
        ("=stop-bead-off | ", ""),
        ('kind = "wire guards"', 'kind = "button loop"'),
        ('name = "levelling"', 'name = "rows"'),
        ('name = "second end"', 'name = "first end"'),
        ("uB 48b<", "uB 48a<"),
    ],
)
def test_changed_paths_are_not_proved(old: str, new: str) -> None:
    """A file in good form whose ends are not those of its closure is refused by the proof."""
    text = closed("wire guards").text
    if "uB" in old:
        start = text.index("uB ")
        old = text[start : text.index(" ", start + 3)]
        new = old.replace("b", "a")
    with pytest.raises(ProblemsError):
        prove_pattern(parse_pattern(changed((old, new), text=text)))


def test_closure_taken_out_of_a_file() -> None:
    """Without its table a closed pattern has more rows than its band explains."""
    text = closed("wire guards").text
    start = text.index("[closure]")
    table = text[start : text.index("[colours", start)]
    with pytest.raises(ProblemsError):
        prove_pattern(parse_pattern(changed((table, ""), text=text)))


# --- what to have ready -----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("kind", "due"),
    [
        ("wire guards", [("wire guard", 2), ("jump ring", 2), ("clasp", 1)]),
        ("bead loops", [("bar clasp with 2 rings a side", 1)]),
        ("ribbon ends", [("ribbon end", 2), ("jump ring", 2), ("clasp", 1), ("adhesive", 1)]),
        ("button loop", [("button", 1)]),
    ],
)
def test_findings_to_have_ready(kind: ClosureKind, due: list[tuple[str, int]]) -> None:
    """Each closure's findings are counted, and they are no beads."""
    supplies = supplies_of(closed(kind).pattern)
    assert [{"name": n, "count": c} for n, c in due] == supplies_document(supplies)["findings"]
    assert {"half tile", "15/0"} == {bead.shape.name for bead in supplies.beads}
    lines = "\n".join(summary(closed(kind).pattern))
    assert f"closure {kind}, about 20 mm more on the wrist" in lines


def test_thread_of_the_ends_is_counted() -> None:
    """The working end is made with the working thread, the other with the tail."""
    plain = compile_design(a_design(2, 6)).pattern
    pattern = closed("wire guards").pattern
    working = pattern.thread_before[-1] - plain.thread_before[-1]
    # Levelling, and twice round two legs of three seeds: some 12 and 2 x 17 mm at least.
    assert 46 < working < 120
    assert 34 < pattern.tail_before[-1] < 120
    more = supplies_of(pattern).thread - supplies_of(plain).thread
    assert pytest.approx(working) == more


@pytest.mark.parametrize("kind", CLOSURES)
def test_tail_too_short(kind: ClosureKind) -> None:
    """A tail that does not last for its end is refused, with the length that does."""
    short = a_design(2, 6, closure=closed_with(kind), thread=replace(THREAD, tail=20.0))
    with pytest.raises(ProblemsError) as caught:
        compile_design(short)
    (line,) = caught.value.lines()
    assert "thread.tail: a tail of 20 mm does not last" in line
    enough = parse_length(line.partition("leave a tail of ")[2].removesuffix(" or more"))
    pattern = compile_design(replace(short, thread=replace(THREAD, tail=enough))).pattern
    assert 0 < pattern.tail_before[-1] <= enough - 80 < pattern.tail_before[-1] + 1


def test_too_short_a_length() -> None:
    """A length that makes fewer than four rows cannot be closed."""
    with pytest.raises(ProblemsError) as caught:
        compile_design(a_design(2, length=9.0, closure=closed_with("ribbon ends")))
    assert "from 4 to 5000 go" in caught.value.lines()[0]


@every_closure
def test_fullest_hole_is_named(kind: ClosureKind) -> None:
    """The proof's report names the fullest hole of a closed band, whatever it is in."""
    pattern = closed(kind).pattern
    lines = list(proof_lines(pattern, closed(kind).proof))
    assert "proved by all 7 rules" in lines[0]
    assert "fullest hole: " in lines[1]


def test_sizes_of_findings() -> None:
    """Two threads of 0.2 mm and a needle of 0.46 mm go through every finding's hole."""
    for finding in findings().values():
        assert finding.hole >= 0.2 + 0.46
