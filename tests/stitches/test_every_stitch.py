"""Every stitch there is, through all that a pattern is used for."""

import json
from dataclasses import replace
from xml.etree import ElementTree as ET

import pytest
from weaving import COLOURS, THREAD

from tracker.app.widgets.band import sample
from tracker.beads.catalogue import seeds, tiles
from tracker.design.model import Design, Layout, Size
from tracker.documents import path_document, supplies_document
from tracker.path.words import step_sentence
from tracker.pattern.compiler import compile_design, prove_pattern
from tracker.pattern.lanes import Lanes
from tracker.pattern.model import Pattern
from tracker.pattern.notation import REFERENCES, figures_of
from tracker.pattern.preview import preview_of
from tracker.pattern.reader import parse_pattern
from tracker.pattern.standing import standing
from tracker.pattern.stock import beads_of, remedies
from tracker.pattern.supplies import supplies_of
from tracker.pictures.page import html_page
from tracker.pictures.sheet import Drawing
from tracker.pictures.svg import draw_svg
from tracker.pictures.told import told
from tracker.progress.finding import Search, sights
from tracker.progress.position import Position
from tracker.progress.unpicking import unpick
from tracker.reports import summary
from tracker.stitches import find_stitch, stitch_names

ROWS = 9
WRITTEN = """\
start up:
  pick up 3 A called ring
  through ring 1, through ring 2
row down:
  pick up 2 B called more, back through ring 3
row up:
  back through more 1, through ring 2
"""


def a_design_in(name: str) -> Design:
    """A small design in a stitch, whatever it asks for, its lanes in A and B by turns."""
    demands = find_stitch(name).demands
    wide, seeded = demands.usual, demands.seed or demands.written
    lanes = 2 * wide if demands.across == "columns" else wide
    layout = Layout(
        seeds="S" if demands.own_seeds else "", kind="lanes", lines=(("AB" * lanes)[:lanes],)
    )
    if demands.written:
        layout = Layout(seeds="", kind="written", lines=tuple(WRITTEN.splitlines()))
    return Design(
        name="Harbour lights",
        stitch=name,
        columns=wide if demands.across == "columns" else 0,
        lanes=wide if demands.across == "lanes" else 0,
        size=Size() if demands.written else Size(rows=ROWS),
        tile=tiles()["half tile"] if demands.tile else None,
        seed=seeds()["15/0" if demands.tile else "11/0"] if seeded else None,
        start=demands.starts[0] if demands.starts else "",
        colours=COLOURS,
        layout=layout,
        thread=THREAD,
    )


@pytest.fixture(scope="module", params=stitch_names())
def design(request: pytest.FixtureRequest) -> Design:
    """One of each."""
    return a_design_in(request.param)


@pytest.fixture(scope="module")
def pattern(design: Design) -> Pattern:
    """Compiled."""
    return compile_design(design).pattern


def test_a_file_that_proves(design: Design) -> None:
    """The file is the same each time, is read back as it was, and proves from itself alone."""
    done = compile_design(design)
    assert done.text == compile_design(design).text
    assert done.pattern == parse_pattern(done.text)
    assert () == prove_pattern(done.pattern).faults


def test_every_step_in_words(pattern: Pattern) -> None:
    """Each step says something, in both lengths, and nothing that is no word."""
    for r in range(pattern.row_count):
        row = pattern.row(r)
        for s, step in enumerate(row.steps):
            for full in (True, False):
                said = step_sentence(pattern, row, step, full=full)
                assert said
                assert said.isprintable()
                assert "  " not in said
            assert standing(pattern, r, s)
            assert list(told(pattern, r, s))


def test_counts(design: Design, pattern: Pattern) -> None:
    """Supplies, the counts of a design and the path's beads agree; summary and JSON are there."""
    document = path_document(pattern)
    assert pattern.totals.total() == len(document["beads"])  # type: ignore[arg-type]
    assert pattern.totals == beads_of(design, pattern.woven_rows)
    bought = supplies_document(supplies_of(pattern))
    assert json.dumps(bought)
    assert pattern.totals.total() == sum(b["count"] for b in bought["beads"])  # type: ignore[attr-defined]
    assert design.stitch in next(iter(summary(pattern)))


def test_pictures(pattern: Pattern) -> None:
    """The whole piece as SVG, each row in its place; the handout as a page with drawings."""
    root = ET.fromstring(draw_svg(pattern, Drawing(thread=True, letters=True)))  # noqa: S314  our own
    assert len(list(root.iter("{http://www.w3.org/2000/svg}use"))) >= pattern.row_count
    page = html_page(pattern)
    assert pattern.name in page
    assert "<svg" in page


def test_the_preview(design: Design, pattern: Pattern) -> None:
    """What a form shows of the design is what is compiled."""
    seen = preview_of(design)
    assert pattern.totals == seen.beads
    assert pattern.woven_rows == seen.rows


def test_lanes_are_those_of_the_band(pattern: Pattern) -> None:
    """No bead is said to lie in a lane that is not there, and every lane has some."""
    if pattern.written:
        assert not Lanes(pattern).known
        return
    lanes = Lanes(pattern)
    rows = [pattern.row(r) for r in range(pattern.woven_rows)]
    found = {lanes.of(b, row) for row in rows for b in row.beads if b.kind == pattern.body}
    assert set(range(1, pattern.wide + 1)) == found


@pytest.mark.parametrize("length", [1, 4, 30])
def test_the_strip(pattern: Pattern, length: int) -> None:
    """The whole piece as a strip of any length: letters of its colours and nothing else."""
    letters = sample(pattern, length, 4)
    assert [length] * 4 == [len(lane) for lane in letters]
    assert {letter for lane in letters for letter in lane} <= {"A", "B", "S", " "}


def test_the_place_can_be_found_and_taken_back(pattern: Pattern) -> None:
    """From every place something is seen; truthful answers never lead away; steps come undone."""
    seen = sights(pattern)
    search = Search(seen, body=pattern.body)
    goal = Position(min(2, pattern.row_count - 1), 0)
    while question := search.question():
        assert "{" not in search.words(question)
        search = search.answered(question, str(getattr(seen[goal], question.field)))
    assert goal in search.places()
    undone = list(unpick(pattern, Position(pattern.row_count, 0), Position(0, 0)))
    assert sum(map(pattern.steps_in, range(pattern.row_count))) == len(undone)
    assert all(undoing.text for undoing in undone)


def test_lines_say_what_their_rows_hold(pattern: Pattern) -> None:
    """What is read off the lines without decoding them is what the decoded rows hold."""
    for number, figures in enumerate(figures_of(pattern.lines)):
        row = pattern.row(number)
        body = [(b.place.y, b.colour) for b in row.beads if b.kind == pattern.body]
        assert body == pattern.across(number)
        named = {p.bead for step in row.steps for p in step.passes if not p.picked_up}
        under = {bead for step in row.steps for _, beads in step.under for bead in beads}
        by = {bead for step in row.steps for bead in step.pass_by}
        assert named | under | by == set(map(int, figures.split()[REFERENCES:]))


def test_short_of_a_colour(design: Design) -> None:
    """With half of a colour, every remedy that is told fits the stock."""
    layout = design.layout
    if layout.kind != "lanes":
        return
    whole = compile_design(design).pattern.totals
    key = next(key for key in whole if key[1] == "A")
    stock = {key: whole[key] * 3 // 4}
    for remedy in remedies(design, stock):
        changed = compile_design(replace(remedy.design, size=Size(rows=remedy.rows), fit=None))
        assert changed.pattern.totals == remedy.beads
        assert remedy.beads[key] <= stock[key]
