"""Text files from the outside world: read within bounds, and every failure put into words."""

from __future__ import annotations

import os
import re
import stat
import tomllib
from pathlib import Path

from tracker.problems import Problem, ProblemsError

MOST_LINES = 30_000
"""Lines of a file in TOML: 5,000 rows, and a line of places for each, take 10,000."""
LONGEST_LINE = 100_000
"""Characters of a line in a file of over `LARGEST_TABLES`: a row of 40 columns takes 3,000."""
MOST_KEY_PARTS = 32
"""Parts of a key with dots, for which a parser takes the square of their number."""
LARGEST_TABLES = 1_000_000
"""Characters of a file in TOML, literal blocks of rows left out."""
_LONGEST_QUOTE = 300
_PART = r"""(?:[A-Za-z0-9_-]+|"[^"\n]*"|'[^'\n]*')"""
_DEEP_KEY = re.compile(
    rf"(?<![A-Za-z0-9_\-.])(?:{_PART}[ \t]*\.[ \t]*){{{MOST_KEY_PARTS},}}{_PART}"
)
_PLACE = re.compile(r"(.*) \(at (line \d+, column \d+|end of document)\)", re.DOTALL)


def read_bytes(path: str | os.PathLike[str], largest: int) -> bytes:
    """The bytes of the file `path`, at most `largest`; a pipe or a device is not waited for.

    Raises FileNotFoundError, and ProblemsError, which does not name the file, for all else.
    """
    path = Path(path)
    try:
        mode = path.stat().st_mode
        if stat.S_ISDIR(mode):
            raise _file_problem("is a folder", "name the file in it")
        if not stat.S_ISREG(mode):
            raise _file_problem("is no ordinary file", "name a design, a pattern or a piece")
        with path.open("rb") as file:
            data = file.read(largest + 1)
    except (NotADirectoryError, ValueError):
        # ValueError: a zero byte in the name, which no file's name can hold.
        raise FileNotFoundError from None
    except FileNotFoundError:
        raise
    except OSError as error:
        reason = error.strerror or "for an unknown reason"
        raise _file_problem(f"cannot be read: {reason}", "check who may read it") from None
    if len(data) > largest:
        size = f"{largest // 1_000_000} MB" if largest >= 1_000_000 else f"{largest} bytes"
        raise _file_problem(f"is over {size}, too large", "check that it is the right file")
    return data


def read_text(path: str | os.PathLike[str], largest: int) -> str:
    """The text of the file `path`, of at most `largest` bytes of UTF-8.

    Raises ProblemsError, whose problems do not name the file, for whatever stops the reading.
    """
    try:
        data = read_bytes(path, largest)
    except FileNotFoundError:
        raise _file_problem("there is no such file", "check the name and the folder") from None
    try:
        return data.decode("utf-8").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        mend = "save the file as UTF-8 in your editor"
        raise ProblemsError([Problem(f"line {line}", "is not UTF-8 text", mend)]) from None


def parse_toml(text: str) -> dict[str, object]:
    """The values of a TOML document; raises ProblemsError with line and column."""
    _require_sober(text)
    try:
        # Some editors put a byte order mark before the text.
        return tomllib.loads(text.removeprefix("\ufeff"))
    except tomllib.TOMLDecodeError as error:
        found = _PLACE.fullmatch(str(error))
        what, where = (found[1], found[2]) if found else (str(error), "file")
        what = what if len(what) <= _LONGEST_QUOTE else f"{what[:_LONGEST_QUOTE]}..."
        mend = "see that each line reads key = value, with text in double quotes"
        raise ProblemsError([Problem(where, f"cannot be read as TOML: {what}", mend)]) from None
    except RecursionError:
        raise _file_problem("nests lists or tables too deep", "take the nesting out") from None
    except ValueError:
        # Python's own limit on the digits of a whole number.
        raise _file_problem("holds a number too long to read", "shorten the number") from None


def _require_sober(text: str) -> None:
    """Refuse what would keep the parser for minutes, or take gigabytes, before it begins."""
    if text.count("\n") > MOST_LINES:
        raise _file_problem(f"has more than {MOST_LINES} lines", "check that it is the right file")
    # A pattern's rows stand in literal blocks, which hold none of these signs and no key therefore,
    # and which a parser takes in one piece.
    parts = text.split("'''")
    if not any(sign in block for block in parts[1::2] for sign in "=[]{}\"'#"):
        tables = "''''''".join(parts[::2])
    else:
        tables = text
    if len(text) > LARGEST_TABLES and max(map(len, text.split("\n"))) > LONGEST_LINE:
        what = f"has a line of more than {LONGEST_LINE} characters"
        raise _file_problem(what, "check that it is the right file")
    if len(tables) > LARGEST_TABLES:
        what = f"holds more than {LARGEST_TABLES // 1_000_000} MB beside rows of moves"
        raise _file_problem(what, "check that it is the right file")
    if _DEEP_KEY.search(tables):
        what = f"has a key of more than {MOST_KEY_PARTS} parts"
        raise _file_problem(what, "take its dots out")


def _file_problem(what: str, mend: str) -> ProblemsError:
    return ProblemsError([Problem("file", what, mend)])
