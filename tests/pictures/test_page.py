"""The handout: what stands in it, that it is one file, and that names in it are text."""

import re
from dataclasses import replace
from html import unescape
from html.parser import HTMLParser

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sealing import CLOSURES, closed, compiled
from weaving import THREAD, a_design, layouts

from tracker.design.model import ClosureKind
from tracker.path.notes import FINDING_CAUTION, NOTES
from tracker.path.words import caution, step_sentence
from tracker.pattern.compiler import compile_design
from tracker.pattern.model import Pattern
from tracker.pattern.supplies import supplies_of
from tracker.pictures.page import html_page
from tracker.pictures.scene import scene_at
from tracker.stitches import find_stitch

VOID = {"meta", "br", "img", "link", "hr", "input"}


class Page(HTMLParser):
    """A page taken apart; an end tag that closes nothing is an error."""

    def __init__(self, text: str) -> None:
        super().__init__(convert_charrefs=True)
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.texts: list[tuple[tuple[str, ...], str]] = []
        self._open: list[str] = []
        self.feed(text)
        self.close()
        assert [] == self._open

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """An element opens."""
        self.tags.append((tag, dict(attrs)))
        if tag not in VOID:
            self._open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """An empty element of a drawing."""
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        """An element closes: the one that was opened last."""
        assert self._open.pop() == tag

    def handle_data(self, data: str) -> None:
        """Text, with the elements that it stands in."""
        if data.strip():
            self.texts.append((tuple(self._open), data.strip()))

    def within(self, tag: str) -> list[str]:
        """The texts inside elements of that name."""
        return [text for inside, text in self.texts if tag in inside]


@pytest.fixture(scope="module")
def band() -> Pattern:
    """Three columns, nine rows."""
    return compiled(3, 9).pattern


@settings(max_examples=15, deadline=None)
@given(columns=st.integers(2, 12), rows=st.integers(2, 9), large=st.booleans(), data=st.data())
def test_any_pattern_gives_a_sound_page(
    columns: int, rows: int, large: bool, data: st.DataObject
) -> None:
    """Elements nest, ids are given once, and every shape used is there."""
    pattern = compile_design(a_design(columns, rows, layout=data.draw(layouts(columns)))).pattern
    page = Page(html_page(pattern, large=large))
    ids = [attrs["id"] for _, attrs in page.tags if "id" in attrs]
    assert len(set(ids)) == len(ids)
    used = {(attrs["href"] or "").removeprefix("#") for tag, attrs in page.tags if tag == "use"}
    assert used <= set(ids)


def test_same_pattern_same_page(band: Pattern) -> None:
    """The bytes depend on the pattern alone."""
    assert html_page(band) == html_page(compile_design(a_design(3, 9)).pattern)


def test_nothing_is_fetched_and_nothing_runs(band: Pattern) -> None:
    """No element that loads or runs anything, and a policy that would forbid it."""
    text = html_page(band)
    page = Page(text)
    for tag, attrs in page.tags:
        assert tag not in {"script", "link", "img", "iframe", "object", "form", "a", "image"}
        assert not [key for key in attrs if key.startswith("on") or key == "src"]
        assert (attrs.get("href") or "#").startswith("#")
    assert "@import" not in text
    assert "url(" not in text
    policy = next(a["content"] for _, a in page.tags if "content-security" in str(a).lower())
    assert "default-src 'none'; style-src 'unsafe-inline'" == policy


@pytest.mark.parametrize("name", ['<b>&"', "</style><script>alert(1)</script>", "&lt;", "a\u202eb"])
def test_names_are_text(band: Pattern, name: str) -> None:
    """A name full of markup opens no element and is read as it was written."""
    odd = replace(band, name=name, colours=tuple(replace(c, name=name) for c in band.colours))
    plain = Page(html_page(band))
    page = Page(html_page(odd))
    assert len(plain.tags) == len(page.tags)
    shown = name.replace("\u202e", "\\u202e")
    assert [shown] == page.within("h1")
    assert 3 == page.within("td").count(shown)


def test_materials(band: Pattern) -> None:
    """Each kind of bead with its count, spare and grams, the thread, and the needle's size."""
    page = Page(html_page(band))
    cells = page.within("td")
    supplies = supplies_of(band)
    for bead in supplies.beads:
        at = cells.index(band.colour(bead.colour).name, 0)
        figures = [str(bead.count), str(bead.with_spare), f"{bead.grams:.1f}"]
        assert figures == cells[at + 2 : at + 5]
    said = " ".join(page.within("p"))
    assert f"{supplies.thread / 1000:.1f} m of thread, 0.15 mm thick" in said
    assert "a tail of 250 mm (10 in)" in said
    assert "One length lasts to the end." in said
    assert supplies.needle is not None
    assert f"needle of size {supplies.needle.size} or finer" in said


def test_joins_are_named_by_their_rows() -> None:
    """A thread of half a metre lasts for some rows; each join is told with its row."""
    design = replace(a_design(3, 30), thread=replace(THREAD, length=700.0))
    said = " ".join(Page(html_page(compile_design(design).pattern)).within("p"))
    (rows,) = re.findall(r"Join a new length at the end of rows? ([\d, and]+),", said)
    numbers = [int(row) for row in re.findall(r"\d+", rows)]
    assert sorted(set(numbers)) == numbers
    assert 2 <= len(numbers) <= 6


def test_cautions(band: Pattern) -> None:
    """Needles, small parts and small children, rest, and whose word goes before ours."""
    said = " ".join(Page(html_page(band)).within("ul"))
    for word in ("needles", "small children", "choke", "stretch", "makers", "rules"):
        assert word in said


@pytest.mark.parametrize("columns", [2, 3, 8])
def test_every_step_of_the_start_and_of_two_rows_is_drawn(columns: int) -> None:
    """A figure a step, with as many rings and crosses as the step has holes and tiles to pass."""
    pattern = compiled(columns, 6).pattern
    text = html_page(pattern)
    figures = re.findall(r"<li><figure>(.*?)</figure></li>", text, re.DOTALL)
    steps = [(row, step) for row in range(4) for step in range(pattern.steps_in(row))]
    assert 4 * (columns + 1) == len(steps) == len(figures)
    hint = find_stitch(pattern.stitch).hint
    for (row, step), figure in zip(steps, figures, strict=True):
        scene = scene_at(pattern, row, step, back=2)
        assert [str(target.order) for target in scene.targets] == re.findall(
            r'fill="#1b1f24">(\d+)</text>', figure
        )
        assert len(scene.pass_by) == figure.count('stroke="#b3261e"')
        assert sum(drawn.new for drawn in scene.beads) == figure.count("-outline-")
        assert hint(row + 1, step + 1, 2 * columns) in unescape(figure)


@pytest.mark.parametrize("columns", [2, 3])
@pytest.mark.parametrize("kind", CLOSURES)
def test_both_ends_are_drawn_and_told(kind: ClosureKind, columns: int) -> None:
    """Each step of the closing rows in full words; a figure where the needle goes through beads."""
    pattern = closed(kind, columns, 6).pattern
    text = html_page(pattern)
    figures = re.findall(r"<li><figure>(.*?)</figure></li>", text, re.DOTALL)[4 * (columns + 1) :]
    rows = [pattern.row(row) for row in range(pattern.woven_rows, pattern.row_count)]
    steps = [(row, at, step) for row in rows for at, step in enumerate(row.steps)]
    assert len(steps) == len(figures) > 4
    for (row, at, step), figure in zip(steps, figures, strict=True):
        said = unescape(re.sub(r"<[^>]+>", " ", figure))
        assert step_sentence(pattern, row, step, full=True) in said
        assert caution(pattern, step) in said
        assert bool(step.passes) == ("<svg" in figure)
        if step.passes:
            scene = scene_at(pattern, row.number - 1, at, back=2)
            assert len(scene.targets) == len(re.findall(r'fill="#1b1f24">\d+</text>', figure))
    page = Page(text)
    assert {"The first end", "The second end"} <= set(page.within("h2"))
    words = {row.section for row in rows}
    assert words <= {
        heading.partition("(")[2].rstrip(")") for heading in page.within("h3") if "(" in heading
    }


@pytest.mark.parametrize("kind", [*CLOSURES, "none"])
def test_cautions_go_with_what_the_ends_take(kind: ClosureKind) -> None:
    """Nickel where a finding is taken, glue where glue is, neither where the band stays open."""
    pattern = (compiled(3, 6) if kind == "none" else closed(kind, 3, 6)).pattern
    page = Page(html_page(pattern))
    before = page.within("ul")
    assert (kind != "none") == (FINDING_CAUTION in before)
    assert (kind == "ribbon ends") == (NOTES["glue"].caution in before)
    assert len(set(before)) == len(before)
    findings = [text for text in page.within("p") if text.startswith("Findings:")]
    assert bool(supplies_of(pattern).findings) == bool(findings)
    for name, count in supplies_of(pattern).findings:
        assert f"{count} {name}" in findings[0]


def test_a_wide_row_is_drawn_at_its_ends() -> None:
    """Of 13 steps the first and the last three are drawn; the rest are said to be alike."""
    text = html_page(compiled(12, 6).pattern)
    assert 4 * 6 == text.count("<li><figure>")
    assert 4 == text.count("<strong>4 to 10</strong> are worked alike")


def test_large_print_is_larger(band: Pattern) -> None:
    """18 points, as large print is (common practice), and the same words."""
    normal, large = html_page(band), html_page(band, large=True)
    assert "font-size: 18pt" in large
    assert "font-size: 10.5pt" in normal
    words = [
        [text for inside, text in Page(page).texts if "style" not in inside]
        for page in (normal, large)
    ]
    assert words[0] == words[1]


def test_a_long_band_is_drawn_as_far_as_paper_goes() -> None:
    """The picture on the page is never wider than A4 and US Letter leave room for."""
    for rows in (6, 200):
        text = html_page(compiled(2, rows).pattern)
        wide = max(float(size) for size in re.findall(r'<svg [^>]*width="([\d.]+)mm"', text))
        assert wide <= 210 - 2 * 12
    assert "of 200." in text
