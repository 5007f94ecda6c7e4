"""docs/limits.md says what holds, and what is over a limit is refused by name."""

import re
import sys
from fractions import Fraction
from importlib import import_module
from pathlib import Path

import pytest

from tracker.design.reader import parse_design
from tracker.files import parse_toml
from tracker.problems import ProblemsError
from tracker.settings.reader import parse_settings
from tracker.stitches import demands

ROOT = Path(__file__).parents[2]
PAGE = (ROOT / "docs" / "limits.md").read_text("utf-8")
ROWS = re.findall(r"^\| ([^|*]+) \| ([\d.,]+)(?: bytes)? \| `([\w.]+)` \|$", PAGE, re.MULTILINE)
DEMO = (ROOT / "patterns" / "night-watch.design.toml").read_text("utf-8")


def in_code(name: str) -> object:
    """The value of a dotted name: a module, and attributes from there on."""
    parts = name.split(".")
    at = next(i for i in range(len(parts), 0, -1) if ".".join(parts[:i]) in known(parts))
    value: object = import_module(".".join(parts[:at]))
    for part in parts[at:]:
        value = getattr(value, part)
    return value


def known(parts: list[str]) -> set[str]:
    """The modules along a dotted name."""
    found = set()
    for i in range(1, len(parts) + 1):
        name = ".".join(parts[:i])
        try:
            import_module(name)
        except ModuleNotFoundError:
            break
        found.add(name)
    return found


@pytest.mark.parametrize(("what", "figure", "name"), ROWS, ids=[row[2] for row in ROWS])
def test_figures_are_those_of_the_code(what: str, figure: str, name: str) -> None:
    """Each limit of the table is the constant that it names."""
    assert Fraction(figure.replace(",", "")) == Fraction(str(in_code(name))), what


def test_every_line_of_the_table_is_held() -> None:
    """No line is of a form that the test above would pass over."""
    lines = [line for line in PAGE.splitlines() if line.startswith("| ") and "**" not in line]
    assert len(ROWS) == len(lines) - 2
    assert len(ROWS) > 30


def test_every_largest_file_is_listed() -> None:
    """A limit of a file's size cannot be added without its line here."""
    files = (ROOT / "tracker").rglob("*.py")
    named = {
        ".".join((*path.relative_to(ROOT).with_suffix("").parts, name))
        for path in files
        for name in re.findall(
            r"^(LARGEST\w*|MOST_LINES|LONGEST_LINE)\b", path.read_text("utf-8"), re.MULTILINE
        )
    }
    assert len(named) >= 9
    assert set() == named - {row[2] for row in ROWS}


TOO_MUCH = [
    ("\n" * 30_001, "file: has more than 30000 lines"),
    (".".join("a" * 34) + " = 1", "file: has a key of more than 32 parts"),
    ("x = '" + "x" * 1_000_001 + "'", "file: has a line of more than 100000 characters"),
    ("x = 1\n" * 3 + "y = '" + "x'\ny = '" * 150_000, "file: has more than 30000 lines"),
    ("".join(f"x{i} = '{'x' * 90_000}'\n" for i in range(12)), "file: holds more than 1 MB beside"),
    (f"x = {'9' * 4301}", "file: holds a number too long to read"),
    ("x = " + "[" * 5000, "file: nests lists or tables too deep"),
]


@pytest.mark.parametrize(("text", "says"), TOO_MUCH, ids=[says[:40] for _, says in TOO_MUCH])
def test_too_much_is_refused_in_words(text: str, says: str) -> None:
    """Each in one line that tells what to do."""
    with pytest.raises(ProblemsError) as error:
        parse_toml(text)
    (line,) = error.value.in_file("x.toml").lines()
    assert line.startswith(f"x.toml: {says}")
    assert "; " in line


def test_what_is_just_within_is_read() -> None:
    """A key of 32 parts, a number of 4,300 digits, 30,000 lines."""
    assert parse_toml(".".join("a" * 32) + " = 1")
    assert parse_toml(f"x = {'9' * sys.int_info.default_max_str_digits}")
    assert {} == parse_toml("\n" * 30_000)


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        (
            'name = "Night watch"',
            f'name = "{"n" * 61}"',
            "name: is 61 characters long; shorten it to 60",
        ),
        (
            "columns = 2",
            "columns = 41",
            "columns: the number 41 is out of range; write a whole number from 2 to 40",
        ),
    ],
)
def test_a_design_beyond_a_limit_is_refused(old: str, new: str, says: str) -> None:
    """By the place in the file, with the limit."""
    assert old in DEMO
    with pytest.raises(ProblemsError) as error:
        parse_design(DEMO.replace(old, new), stitches=demands())
    assert any(says in line for line in error.value.lines())


@pytest.mark.parametrize(
    ("key", "limit"), [("bounce = 101", "100"), ("[supplies]\nspare = 5.1", "5")]
)
def test_a_setting_beyond_a_limit_is_refused(key: str, limit: str) -> None:
    """By its key, with the limit."""
    with pytest.raises(ProblemsError) as error:
        parse_settings(f"format = 1\n{key}\n", actions={}, commands=())
    (line,) = error.value.lines()
    assert limit in line.partition("; ")[2]


@pytest.mark.parametrize("page", ["limits.md", "supply-chain.md"])
def test_links_and_files_lead_somewhere(page: str) -> None:
    """What these pages link to, and the tests that they name, is there."""
    text = (ROOT / "docs" / page).read_text("utf-8")
    links = [link.partition("#")[0] for link in re.findall(r"\]\((?!https:)([^)]+)\)", text)]
    assert [] == [link for link in links if not (ROOT / "docs" / link).is_file()]
    assert [] == [
        name for name in re.findall(r"`(tests/[\w/.]+)`", text) if not (ROOT / name).exists()
    ]
