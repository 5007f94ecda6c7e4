import os
from pathlib import Path

import pytest
from design_texts import GOOD, STITCHES
from hypothesis import given
from hypothesis import strategies as st

from tracker.design.reader import parse_design, read_design
from tracker.problems import ProblemsError


def _fault(path: Path | str) -> str:
    with pytest.raises(ProblemsError) as caught:
        read_design(path, stitches=STITCHES)
    (line,) = caught.value.lines()
    return line


def test_a_file_is_read(tmp_path: Path) -> None:
    """The design in a file is that of its text, with or without a byte order mark."""
    file = tmp_path / "band.design.toml"
    for mark in ("", "\ufeff"):
        file.write_text(mark + GOOD, "utf-8")
        expected = parse_design(GOOD, stitches=STITCHES)
        assert expected == read_design(file, stitches=STITCHES)


@pytest.mark.parametrize(
    ("content", "fault"),
    [
        (b"format = 1\nname = \xff\n", "line 2: is not UTF-8 text"),
        (b"#" * 1_000_001, "file: is over 1 MB"),
        (b"format = 1\nname = Harbour\n", "line 2, column 8: cannot be read as TOML"),
        (b"format = 1\nformat = 1\n", "line 2, column 11: cannot be read as TOML"),
        (b"name = '''", "end of document: cannot be read as TOML"),
        (b"name = " + b"[" * 100_000, "file: nests lists or tables too deep"),
        (b"columns = " + b"9" * 5_000, "file: holds a number too long to read"),
        (b'name = "\x1b[31m"', "cannot be read as TOML"),
    ],
    ids=["coding", "size", "bare", "twice", "open", "nested", "digits", "escape"],
)
def test_a_spoilt_file_is_a_problem(tmp_path: Path, content: bytes, fault: str) -> None:
    """What is no TOML gives one line with the file's name as given and the place in it."""
    file = tmp_path / "band.design.toml"
    file.write_bytes(content)
    line = _fault(file)
    assert fault in line
    assert line.startswith(f"{file}: ")
    assert line.isprintable()


def test_what_is_no_file_is_a_problem(tmp_path: Path) -> None:
    """A missing file, a folder, a pipe and an impossible name are told apart in words."""
    os.mkfifo(tmp_path / "pipe")
    assert "there is no such file" in _fault(tmp_path / "gone.design.toml")
    assert "is a folder" in _fault(tmp_path)
    assert "is no ordinary file" in _fault(tmp_path / "pipe")
    assert "there is no such file" in _fault("a\0b")
    (tmp_path / "loop").symlink_to(tmp_path / "loop")
    assert "cannot be read" in _fault(tmp_path / "loop")


@given(
    at=st.integers(0, len(GOOD)),
    length=st.integers(0, 40),
    put=st.text(max_size=20)
    | st.sampled_from(['"', "[", "{}", "1", "\\u0000", "\n", "= 1979-05-27"]),
)
def test_any_slip_of_the_pen_is_read_or_refused(at: int, length: int, put: str) -> None:
    """A design with any stretch of its text replaced is a design or a list of problems."""
    text = GOOD[:at] + put + GOOD[at + length :]
    lines: list[str] = []
    try:
        design = parse_design(text, stitches=STITCHES)
    except ProblemsError as error:
        lines = error.lines()
    assert lines or all(len(line) == 2 * design.columns for line in design.layout.lines)
    assert all(line.isprintable() for line in lines)
