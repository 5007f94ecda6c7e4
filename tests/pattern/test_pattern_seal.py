"""A pattern that was changed or damaged is refused with a message, never with a traceback."""

import random
from pathlib import Path

import pytest
from sealing import changed, compiled, problems, resealed

from tracker.pattern.reader import parse_pattern, read_pattern
from tracker.problems import ProblemsError

SEAL = (
    "band.pattern.toml: seal: the pattern was changed or damaged after it was proved; "
    "compile its design again, or ask for a fresh copy"
)


def test_our_own_seal_is_the_files() -> None:
    """The seal is the SHA-256 of what follows its line, and a seal of ours is accepted."""
    assert compiled().text == resealed(compiled().text)


def test_changed_row() -> None:
    """A row changed by hand no longer matches the seal."""
    assert [SEAL] == problems(compiled().text.replace("!3 12b", "!3 12a"))


@pytest.mark.parametrize("seed", range(6))
def test_any_single_character(seed: int) -> None:
    """Any one character changed, dropped or added is refused, but for the comment's."""
    text, draw = compiled().text, random.Random(seed)  # noqa: S311  no secret hangs on it
    comment = text.index("format = 1")
    for _ in range(150):
        at = draw.randrange(len(text))
        new = draw.choice(["", "0", "x", "\n", '"', "'", "\x00", "\u2028", text[at] * 2, "\ud7ff"])
        if new == text[at]:
            continue
        spoilt = text[:at] + new + text[at + 1 :]
        found = problems(spoilt)
        if not found:
            # What is no part of the pattern may be rewritten: it stays the same pattern.
            assert at < comment
            assert compiled().pattern == parse_pattern(spoilt)
            assert compiled().pattern.digest == parse_pattern(spoilt).digest
        assert all(line.isprintable() for line in found)


def test_cut_short() -> None:
    """A file that ends too early is refused, wherever it ends."""
    text = compiled().text
    for end in range(0, len(text), 97):
        assert problems(text[:end])


def test_binary_on_disk(tmp_path: Path) -> None:
    """Bytes that are no text are refused with the place."""
    file = tmp_path / "band.pattern.toml"
    file.write_bytes(compiled().text.encode().replace(b"Harbour", b"Harb\xffur"))
    with pytest.raises(ProblemsError) as caught:
        read_pattern(file)
    assert ["line 5"] == [problem.where for problem in caught.value.problems]
    assert str(file) == caught.value.file


@pytest.mark.parametrize("version", ["2", "17"])
def test_newer_format(version: str) -> None:
    """A newer format is refused with the one that this version reads, whatever else it holds."""
    assert [
        (
            f"band.pattern.toml: format: format {version} needs a newer tracker; this one reads "
            "format 1; update the tracker"
        )
    ] == problems(compiled().text.replace("format = 1", f"format = {version}"))


@pytest.mark.parametrize("value", ["0", "-1", '"1"', "1.5", "[1]", "0x" + "f" * 5000, "2024-01-01"])
def test_no_format_at_all(value: str) -> None:
    """What is no format number is refused as such, however long it is."""
    text = compiled().text.replace("format = 1", f"format = {value}")
    assert [
        (
            "band.pattern.toml: format: this is no pattern of format 1; name a file that "
            "`tracker compile` made"
        )
    ] == problems(text)


def test_not_a_pattern() -> None:
    """A design, an empty file and text that is no TOML are told apart from a damaged pattern."""
    assert "this is no pattern of format 1" in problems('format = 1\nname = "Harbour lights"\n')[0]
    assert "this is no pattern of format 1" in problems("")[0]
    assert "cannot be read as TOML" in problems("three seeds, a tile")[0]


def test_broken_row_with_a_seal_that_is_right() -> None:
    """The seal alone is not believed: a row that is none is refused with its number."""
    assert [
        (
            "band.pattern.toml: row 3: is no row of moves; compile its design again, or ask for a "
            "fresh copy"
        )
    ] == problems(changed(("!3 12b", "!3 12c")))


@pytest.mark.parametrize(
    ("old", "new", "what"),
    [
        ("3 up 15", "4 up 15", "does not follow from the row before"),
        ("3 up 15", "3 up 16", "does not follow from the row before"),
        ("sS tA 13 !3", "sS tC 13 !3", "a shape or a colour that the pattern does not have"),
        ("sS tA 13 !3", "sS xA 13 !3", "a shape or a colour that the pattern does not have"),
        ("4.81 3 20.5", "4.81 2 20.5", "its beads and its line of places do not agree"),
        ("4.81 3 20.5", "4.81 9 20.5", "its beads and its line of places do not agree"),
        ("4.81 3 20.5", "4.81 0 20.5", "its beads and its line of places do not agree"),
        ("!3 12b", "!3 21b", "it goes through a bead that is not there yet"),
        ("!3 12b", "!9999999 12b", "it goes through a bead that is not there yet"),
        ("!3 12b", "!3 10000000b", "is no row of moves"),
        ("!3 12b", "!3 1" + "0" * 6000, "is no row of moves"),
        ("!3 12b |", "!3 12b | |", "is no row of moves"),
        ("| turn sS sS 18b<", "| turn", "is no row of moves"),
        ("3 up 15", "3 sideways 15", "is no row of moves"),
        ("3 up 15", "\u0663 up 15", "is no row of moves"),
        ("4.81 3 20.5", "nan 3 20.5", "is no row of moves"),
    ],
)
def test_rows_that_do_not_hold_together(old: str, new: str, what: str) -> None:
    """A row out of order, or with beads that are not there, is refused with its number."""
    (line,) = problems(changed((old, new)))
    assert line.startswith("band.pattern.toml: row 3: ")
    assert what in line


def test_broken_place_with_a_seal_that_is_right() -> None:
    """A line of places is checked as a row is, and told by its number."""
    found = problems(changed(("0.00 8.27 0.0,", "0.00 8,27 0.0,")))
    assert ["band.pattern.toml: places line 2: is no line of places"] == [
        line.partition(";")[0] for line in found
    ]
