"""Pictures written to files: the ending decides the form, and a refusal leaves no trace."""

from dataclasses import replace
from pathlib import Path

import pytest
from sealing import compiled

from tracker.pattern.model import Pattern
from tracker.pictures.page import html_page
from tracker.pictures.save import save_picture
from tracker.pictures.sheet import Drawing
from tracker.pictures.svg import draw_svg
from tracker.problems import ProblemsError


@pytest.fixture(scope="module")
def band() -> Pattern:
    """Two columns, six rows."""
    return compiled(2, 6).pattern


def refused(band: Pattern, out: Path, drawing: Drawing | None = None) -> str:
    """The one line of the problem that a picture meets."""
    with pytest.raises(ProblemsError) as caught:
        save_picture(band, out, drawing)
    (line,) = caught.value.lines()
    return line


def test_each_ending_gives_its_form(band: Pattern, tmp_path: Path) -> None:
    """What is in the file is what the drawing and the page come to, capital endings too."""
    drawing = Drawing(letters=True)
    save_picture(band, tmp_path / "band.SVG", drawing)
    save_picture(band, tmp_path / "band.html", drawing, large=True)
    assert draw_svg(band, drawing) == (tmp_path / "band.SVG").read_text("utf-8")
    assert html_page(band, large=True) == (tmp_path / "band.html").read_text("utf-8")


def test_an_older_picture_is_replaced(band: Pattern, tmp_path: Path) -> None:
    """Drawing again puts the new picture in the old one's place, and nothing beside it."""
    out = tmp_path / "band.svg"
    out.write_text("old")
    save_picture(band, out)
    assert draw_svg(band) == out.read_text("utf-8")
    assert [out] == list(tmp_path.iterdir())


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("band.pdf", "picture: a PDF is not written here; write an .html, open it in a browser"),
        ("band.gif", 'picture: ".gif" is no form of a picture; end it in .svg, .png, .html'),
        ("band", "picture: the name has no ending; end it in .svg, .png, .html"),
    ],
)
def test_other_endings_are_told_what_there_is(
    band: Pattern, tmp_path: Path, name: str, said: str
) -> None:
    """The problem names the file and the forms, and nothing is written."""
    out = tmp_path / name
    assert refused(band, out).startswith(f"{out}: {said}")
    assert [] == list(tmp_path.iterdir())


def test_a_page_takes_no_options_of_the_drawing(band: Pattern, tmp_path: Path) -> None:
    """What a page would leave out is refused, not passed over."""
    out = tmp_path / "band.html"
    drawing = Drawing(thread=True, row=3)
    assert "a page shows the whole band its own way, without: thread, row" in refused(
        band, out, drawing
    )


def test_what_cannot_be_written_leaves_what_was_there(band: Pattern, tmp_path: Path) -> None:
    """A folder that is gone, or a row that there is not: the problem names the file."""
    gone = tmp_path / "gone" / "band.svg"
    assert "cannot be written: the file or its folder is gone" in refused(band, gone)
    out = tmp_path / "band.svg"
    out.write_text("old")
    line = refused(band, out, replace(Drawing(), row=70))
    assert line == f"{out}: row: there is no row 70; choose one from 1 to 6"
    assert "old" == out.read_text()
