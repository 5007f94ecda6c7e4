import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.design.lengths import Unit, parse_length, written


@pytest.mark.parametrize(
    ("text", "millimetres"),
    [
        ("160 mm", 160.0),
        ("16 cm", 160.0),
        ("0.16 m", 160.0),
        ("16cm", 160.0),
        (" 1.8 m ", 1800.0),
        ("6.3 in", 160.02),
        ("6 1/4 in", 158.75),
        ("1/2 in", 12.7),
        ("100 m", 100_000.0),
    ],
)
def test_lengths_are_read_exactly(text: str, millimetres: float) -> None:
    """The same length in another unit is the very same number."""
    assert millimetres == parse_length(text)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "mm",
        "160",
        "160 km",
        "-5 mm",
        "+5 mm",
        "nan mm",
        "inf mm",
        "1e3 mm",
        "1,5 mm",
        "0 mm",
        "0.0 in",
        "1/0 in",
        "0/4 in",
        "100.1 m",
        "0.0001 mm",
        "6 1/4",
        "6 1 in",
        "5 MM",
        "5\u00a0mm",
        "٣ mm",
        "9" * 39 + "m",
        "9" * 5000 + " mm",
        "1/" + "3" * 60 + " mm",
        "160 mm\x1b[31m",
    ],
)
def test_what_is_no_length_is_refused_with_the_units(text: str) -> None:
    """The refusal names the units, stays short, and lets no control character through."""
    with pytest.raises(ValueError, match="mm, cm, m") as caught:
        parse_length(text)
    assert str(caught.value).isprintable()
    assert len(str(caught.value)) < 200


@given(mm=st.floats(0.01, 99_000), unit=st.sampled_from(["mm", "cm", "m", "in"]))
def test_what_is_written_is_read_back(mm: float, unit: Unit) -> None:
    """A length written to nine decimals comes back the same."""
    assert mm == pytest.approx(parse_length(written(mm, unit, 9)), rel=1e-3, abs=1e-4)


def test_lengths_are_written_without_idle_zeros() -> None:
    """A length is written as a person would."""
    assert "160 mm" == written(160.0)
    assert "1.8 m" == written(1800, "m")
    assert "6.3 in" == written(160.0, "in", 1)
    assert "100 mm" == written(100.2, places=0)
