"""Text files from the outside world: read within bounds, and every failure put into words."""

from __future__ import annotations

import os
import re
import stat
import tomllib
from pathlib import Path

from tracker.problems import Problem, ProblemsError

_PLACE = re.compile(r"(.*) \(at (line \d+, column \d+|end of document)\)", re.DOTALL)


def read_text(path: str | os.PathLike[str], largest: int) -> str:
    """The text of the file `path`, of at most `largest` bytes of UTF-8.

    Raises ProblemsError, whose problems do not name the file, for whatever stops the reading.
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
    except (FileNotFoundError, NotADirectoryError, ValueError):
        # ValueError: a zero byte in the name, which no file's name can hold.
        raise _file_problem("there is no such file", "check the name and the folder") from None
    except OSError as error:
        reason = error.strerror or "for an unknown reason"
        raise _file_problem(f"cannot be read: {reason}", "check who may read it") from None
    if len(data) > largest:
        size = f"{largest // 1_000_000} MB" if largest >= 1_000_000 else f"{largest} bytes"
        raise _file_problem(f"is over {size}, too large", "check that it is the right file")
    try:
        return data.decode("utf-8").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        mend = "save the file as UTF-8 in your editor"
        raise ProblemsError([Problem(f"line {line}", "is not UTF-8 text", mend)]) from None


def parse_toml(text: str) -> dict[str, object]:
    """The values of a TOML document; raises ProblemsError with line and column."""
    try:
        # Some editors put a byte order mark before the text.
        return tomllib.loads(text.removeprefix("\ufeff"))
    except tomllib.TOMLDecodeError as error:
        found = _PLACE.fullmatch(str(error))
        what, where = (found[1], found[2]) if found else (str(error), "file")
        mend = "see that each line reads key = value, with text in double quotes"
        raise ProblemsError([Problem(where, f"cannot be read as TOML: {what}", mend)]) from None
    except RecursionError:
        raise _file_problem("nests lists or tables too deep", "take the nesting out") from None
    except ValueError:
        # Python's own limit on the digits of a whole number.
        raise _file_problem("holds a number too long to read", "shorten the number") from None


def _file_problem(what: str, mend: str) -> ProblemsError:
    return ProblemsError([Problem("file", what, mend)])
