"""A band made to a wrist: its rows, its file, and its file spoilt."""

from dataclasses import replace

import pytest
from sealing import changed, problems
from weaving import a_design

from tracker.design.model import Design, Layout, Size
from tracker.fit.model import Fit, Swatch, Wish
from tracker.pattern.compiler import compile_design
from tracker.pattern.reader import parse_pattern
from tracker.pattern.writer import write
from tracker.problems import ProblemsError

MIRRORED = Layout(seeds="S", kind="rows", lines=tuple("AAAABB"), mirror=True)


def fitted(wish: Wish, layout: Layout | None = None, swatch: Swatch | None = None) -> Design:
    """A two-column band to that wish."""
    return replace(a_design(2, layout=layout), size=Size(), fit=wish, swatch=swatch)


def test_rows_for_a_wrist() -> None:
    """160 + 12 + pi x 1.9 = 177.969 mm: (177.969 - 3.1577) / 2.4042 = 72.71, so 73 rows."""
    pattern = compile_design(fitted(Wish(wrist=160.0, ease=12.0))).pattern
    assert 73 == pattern.row_count
    assert pytest.approx(177.969, abs=5e-4) == pattern.target
    assert Fit(wrist=160.0, ease=12.0, thickness=1.9) == pattern.fit


def test_whole_repeats() -> None:
    """A repeat of AAAABB there and back is 6 rows, for stripes at the turns are not doubled."""
    wish = Wish(wrist=160.0, ease=12.0, whole_repeats=True)
    pattern = compile_design(fitted(wish, MIRRORED)).pattern
    assert 72 == pattern.row_count
    assert pattern.fit is not None
    assert 6 == pattern.fit.repeat_rows


def test_a_swatch_replaces_the_gauge() -> None:
    """A hand that weaves 2.6 mm a row needs (177.969 - 3.1577) / 2.6 = 67.2, so 67 rows."""
    swatch = Swatch(rows=50, length=3.1577 + 50 * 2.6)
    pattern = compile_design(fitted(Wish(wrist=160.0, ease=12.0), swatch=swatch)).pattern
    assert 67 == pattern.row_count
    assert pytest.approx(2.6) == pattern.gauge.pitch
    # sqrt(1 + 0.25) mm in 130 mm.
    assert 0.0086 == pattern.gauge.pitch_spread
    by_length = replace(a_design(2, length=130.0), swatch=swatch)
    assert 49 == compile_design(by_length).pattern.row_count  # 126.84 / 2.6 = 48.8


def test_a_swatch_of_other_beads_is_refused() -> None:
    """The problem names its place in the design."""
    design = replace(a_design(2), swatch=Swatch(rows=20, length=20.0))
    with pytest.raises(ProblemsError) as caught:
        compile_design(design)
    (line,) = caught.value.lines()
    assert line.startswith(": gauge.length: 20 rows of these beads come to about 51 mm")


def test_a_repeat_too_long_for_any_band() -> None:
    """Where a whole repeat is more than the most rows there are, that is said."""
    layout = Layout(seeds="S", kind="rows", lines=tuple("AB" * 2000), mirror=True)
    with pytest.raises(ProblemsError) as caught:
        compile_design(fitted(Wish(wrist=160.0, ease=12.0, whole_repeats=True), layout))
    (line,) = caught.value.lines()
    assert line.startswith(": fit: 177.969 mm takes 7998 rows, from 2 to 5000 go; take the whole")


@pytest.mark.parametrize("whole", [False, True])
def test_the_fit_is_read_back(whole: bool) -> None:
    """What the file says of the fit is what was asked for, and writes the same bytes."""
    band = compile_design(fitted(Wish(wrist=165.1, ease=6.0, whole_repeats=whole), MIRRORED))
    assert band.pattern == parse_pattern(band.text)
    assert band.text == write(parse_pattern(band.text))
    assert band.pattern.fit is not None
    with_closure = replace(band.pattern, fit=replace(band.pattern.fit, closure_length=14.0))
    assert with_closure == parse_pattern(write(with_closure))


def test_without_a_fit_the_file_is_the_one_it_was() -> None:
    """No table of it stands in a pattern of a design by rows or by length."""
    for design in (a_design(2, 6), a_design(2, length=50.0)):
        band = compile_design(design)
        assert "fit" not in band.text
        assert None is band.pattern.fit


@pytest.mark.parametrize(
    ("old", "new", "where"),
    [
        ('wrist = "160 mm"', 'wrist = "wide"', "fit.wrist"),
        ('ease = "12 mm"\n', "", "fit.ease"),
        ("[fit]", "[fit]\nrepeat_rows = 0", "fit.repeat_rows"),
        ("[fit]", "[fit]\nclosure_length = 3", "fit.closure_length"),
    ],
)
def test_a_spoilt_fit_in_a_pattern(old: str, new: str, where: str) -> None:
    """A resealed file with a wrong fit is refused at its place."""
    text = compile_design(fitted(Wish(wrist=160.0, ease=12.0))).text
    (line,) = problems(changed((old, new), text=text))
    assert line.startswith(f"band.pattern.toml: {where}: ")
