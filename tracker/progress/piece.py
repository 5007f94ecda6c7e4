"""The folder of a piece and its `piece.toml`: what was started, when, and from what."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

import tomli_w

from tracker.problems import Problem, ProblemsError, shown
from tracker.progress.durable import reason

FORMAT = 1
ABOUT = "piece.toml"
PATTERN = "pattern.toml"
JOURNAL = "journal.toml"
LOCK = "piece.lock"


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceFolder:
    """A piece on the disk."""

    path: Path
    name: str
    pattern_digest: str
    design_digest: str
    rows: int
    """Rows of the whole piece."""
    started: datetime
    source: str
    """The file that it was started from, absolute."""
    moved: int = 0
    """How often it has moved to a changed pattern."""

    @property
    def slug(self) -> str:
        """The folder's own name."""
        return self.path.name

    @property
    def pattern_path(self) -> Path:
        """The compiled pattern, the very bytes that the piece was started with or moved to."""
        return self._numbered(PATTERN)

    @property
    def journal_path(self) -> Path:
        """The journal."""
        return self._numbered(JOURNAL)

    def _numbered(self, name: str) -> Path:
        """The file's name with the number of the move behind it, from the first move on.

        So a move to another pattern is one change of `piece.toml`, and what was before stays.
        """
        path = self.path / name
        return path.with_stem(f"{path.stem}-{self.moved + 1}") if self.moved else path


def about(folder: PieceFolder) -> bytes:
    """The bytes of the folder's `piece.toml`."""
    # A file's name need not be UTF-8; this file must be.
    source = folder.source.encode("utf-8", "backslashreplace").decode()
    table = {
        "format": FORMAT,
        "name": folder.name,
        "pattern": folder.pattern_digest,
        "design": folder.design_digest,
        "rows": folder.rows,
        "started": folder.started,
        "source": source,
    }
    if folder.moved:
        table["moved"] = folder.moved
    return tomli_w.dumps(table).encode()


def read_about(path: Path) -> PieceFolder:
    """The piece in the folder `path`. Raises ProblemsError with everything that is wrong."""
    file = path / ABOUT
    try:
        table = tomllib.loads(file.read_bytes().decode())
    except OSError as error:
        problem = Problem("the file", f"cannot be read: {reason(error)}", _WAY_BACK)
        raise ProblemsError([problem], str(file)) from error
    except (ValueError, RecursionError) as error:  # ValueError: also no UTF-8, endless numbers
        problem = Problem("the file", f"is not TOML: {error}", _WAY_BACK)
        raise ProblemsError([problem], str(file)) from error
    known = table.get("format")
    if type(known) is int and known != FORMAT:
        raise ProblemsError([unknown_format(known, FORMAT)], str(file))
    problems = [
        Problem(key, f"should be {_WANTED[key]}", _WAY_BACK)
        for key in _WANTED
        if key != "moved" or key in table
        if not _is_right(key, table.get(key))
    ]
    if problems:
        raise ProblemsError(problems, str(file))
    return PieceFolder(
        path=path,
        name=table["name"],
        pattern_digest=table["pattern"],
        design_digest=table["design"],
        rows=table["rows"],
        started=table["started"],
        source=table["source"],
        moved=table.get("moved", 0),
    )


def require_current(folder: PieceFolder) -> None:
    """Refuse a folder that was read before its piece moved. Raises ProblemsError."""
    if read_about(folder.path).moved != folder.moved:
        what = "the piece has moved to a changed pattern meanwhile"
        raise ProblemsError([Problem("pattern", what, "open it again")], str(folder.path))


def unknown_format(found: int, known: int) -> Problem:
    """A file of a format that this version does not read."""
    return Problem(
        "format",
        f"this version reads format {known}, the file has format {shown(str(found))}",
        "update the tracker: a newer version wrote it",
    )


_WAY_BACK = "mend it by hand, or move the piece's folder away and start the pattern again"
_WANTED = {
    "format": "the number 1",
    "name": "a text in one line",
    "pattern": "the pattern's digest",
    "design": "the design's digest",
    "rows": "a whole number, 1 or more",
    "started": "a date and time with its zone",
    "source": "the path of a file",
    "moved": "a whole number, 1 or more",
}


def _is_right(key: str, value: Any) -> bool:
    if key in ("format", "rows", "moved"):
        return type(value) is int and value >= 1
    if key == "started":  # in the year 1, a time may have no UTC
        return isinstance(value, datetime) and value.tzinfo is not None and value.year > 1
    if key == "name":
        return isinstance(value, str) and value.isprintable() and value.strip() != ""
    return isinstance(value, str)
