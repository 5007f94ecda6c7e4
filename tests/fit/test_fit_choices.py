from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.fit.fitting import FEWEST_ROWS, choices, fit_lines
from tracker.fit.model import EASES, Fit, Swatch, ease_words, parse_ease
from tracker.fit.swatch import with_swatch
from tracker.path.gauge import Gauge
from tracker.problems import ProblemsError

GAUGE = Gauge(
    start=3.1577,
    pitch=2.4042,
    width=13.4,
    pitch_spread=0.04,
    start_spread=0.5,
    width_spread=0.06,
)
FIT = Fit(wrist=160.0, ease=12.0, thickness=1.9)

fits = st.builds(
    Fit,
    wrist=st.floats(80.0, 400.0),
    ease=st.floats(0.1, 100.0),
    thickness=st.floats(0.5, 5.0),
    closure_length=st.floats(0.0, 60.0),
    repeat_rows=st.integers(1, 60),
)


@given(fits)
def test_the_target_lies_between_the_two(fit: Fit) -> None:
    """Both are whole repeats, next to each other, and the length to weave lies between them."""
    two = choices(fit, GAUGE)
    unit = fit.repeat_rows
    assert 0 == two.below.rows % unit
    assert two.below.rows + unit == two.above.rows
    assert two.above.length > two.target - 1e-6
    assert two.below.length <= two.target + 1e-6 or two.below.rows < FEWEST_ROWS + unit
    for choice in (two.below, two.above):
        assert pytest.approx(fit.wrist + choice.ease) == choice.inside
        assert choice.length_range[0] < choice.length < choice.length_range[1]


@given(fits)
def test_what_is_taken_closes_round_the_wrist(fit: Fit) -> None:
    """It is the nearer one, but for a nearer one that would not close."""
    two = choices(fit, GAUGE)
    assert two.taken in (two.below, two.above)
    assert two.taken.ease >= 0
    other = two.above if two.taken is two.below else two.below
    nearer = abs(two.taken.length - two.target) <= abs(other.length - two.target) + 1e-9
    assert nearer or other.ease < 0


def test_exactly_whole_rows() -> None:
    """A length that is 70 rows to the last digit is not taken for 69."""
    exact = GAUGE.length(70)
    fit = replace(FIT, ease=exact - FIT.wrist - FIT.bending)
    two = choices(fit, GAUGE)
    assert (70, 71) == (two.below.rows, two.above.rows)
    assert two.below is two.taken


def test_a_repeat_asked_for_on_the_spot() -> None:
    """The repeat given goes before the fit's own."""
    two = choices(replace(FIT, repeat_rows=5), GAUGE, 14)
    assert (70, 84) == (two.below.rows, two.above.rows)


def test_a_repeat_longer_than_the_wrist() -> None:
    """Where the shorter one is nearer but does not close, the longer one is taken."""
    two = choices(Fit(wrist=160.0, ease=6.0, thickness=1.9, repeat_rows=66), GAUGE)
    assert (66, 132) == (two.below.rows, two.above.rows)
    assert two.below.ease < 0
    assert two.above is two.taken


@pytest.mark.parametrize(
    ("text", "mm"),
    [("snug", 6.0), (" comfortable ", 12.0), ("loose", 22.0), ("10 mm", 10.0), ("1/2 in", 12.7)],
)
def test_ease_by_name_or_length(text: str, mm: float) -> None:
    """The names stand for what is common practice."""
    assert mm == parse_ease(text)


def test_ease_in_words() -> None:
    """A usual ease is said to be common practice; another is only a length."""
    assert "12 mm, comfortable by common practice" == ease_words(12.0)
    assert "12.7 mm" == ease_words(12.7)
    assert sorted(EASES.values()) == list(EASES.values())


def test_the_fit_in_words() -> None:
    """What to weave and why, and what the two choices give, in both units."""
    assert (
        (
            "to weave 178 mm (7 in): wrist 160 mm (6 5/16 in), ease 12 mm, comfortable by common "
            "practice, bending 6.0 mm"
        ),
        "72 rows: 176 mm woven (169 to 184), inside 170 mm (6 11/16 in), 10 mm (3/8 in) of ease",
        (
            "73 rows: 179 mm woven (171 to 186), inside 173 mm (6 13/16 in), 13 mm (1/2 in) of "
            "ease: taken"
        ),
    ) == fit_lines(FIT, GAUGE)
    short = fit_lines(replace(FIT, closure_length=20.0, repeat_rows=60), GAUGE)
    assert short[0].endswith(", less 20.0 mm of closure")
    assert short[1].endswith("inside 161 mm (6 3/8 in), 1 mm (1/16 in) of ease: taken")
    lines = fit_lines(replace(FIT, repeat_rows=50), GAUGE)
    assert lines[1].endswith("too short by 43 mm (1 11/16 in): it does not close")


@pytest.mark.parametrize(
    ("swatch", "line"),
    [
        (
            Swatch(rows=20, length=2.0),
            (
                ": gauge.length: 20 rows of these beads come to about 51 mm, not to 2 mm; count "
                "and measure the swatch again"
            ),
        ),
        (
            Swatch(rows=20, length=51.0, width=30.0),
            (
                ": gauge.width: a band of so many columns is about 13 mm wide, not 30 mm; measure "
                "a swatch of as many columns as the band, or leave the width out"
            ),
        ),
    ],
)
def test_what_is_no_swatch_of_these_beads(swatch: Swatch, line: str) -> None:
    """A slip of the ruler is refused, with what the beads come to."""
    with pytest.raises(ProblemsError) as caught:
        with_swatch(GAUGE, swatch)
    assert [line] == caught.value.lines()


@given(st.integers(4, 400))
def test_a_longer_swatch_is_surer(rows: int) -> None:
    """A swatch as long as predicted changes the pitch by nothing, and the more rows the surer."""
    by_swatch = with_swatch(GAUGE, Swatch(rows=rows, length=GAUGE.length(rows)))
    longer = with_swatch(GAUGE, Swatch(rows=2 * rows, length=GAUGE.length(2 * rows)))
    assert pytest.approx(GAUGE.pitch) == by_swatch.pitch
    assert by_swatch.pitch_spread > longer.pitch_spread
    assert (GAUGE.width, GAUGE.width_spread) == (by_swatch.width, by_swatch.width_spread)
