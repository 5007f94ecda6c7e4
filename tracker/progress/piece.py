"""The folder of a piece and its `piece.toml`: what was started, when, from what, on which shelf."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from pathlib import Path
from typing import Any, Literal

from tracker.files import parse_toml, read_text
from tracker.problems import Problem, ProblemsError, shown
from tracker.progress import durable
from tracker.progress.durable import SaveError, reason, saving
from tracker.progress.locking import Lock, TakenError
from tracker.records import record

FORMAT = 1
ABOUT = "piece.toml"
PATTERN = "pattern.toml"
JOURNAL = "journal.toml"
LOCK = "piece.lock"
DESIGN = "design.toml"
"""The design's text, in a piece that came from another machine together with it."""
LARGEST = 100_000
"""No `piece.toml` is larger, bytes."""
LONGEST_NAME = 80
"""A design's name is shorter: a number may come behind it."""

Shelf = Literal["in hand", "set aside", "finished"]
SHELVES: tuple[Shelf, ...] = ("in hand", "set aside", "finished")
SHELF_KEYS: Mapping[str, Shelf] = {"set_aside": "set aside", "finished": "finished"}


@record
class Shelved:
    """On which shelf a piece was put, and when: what is stitched later takes it in hand again."""

    shelf: Shelf
    at: datetime


@record(kw_only=True)
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
    shelved: Shelved | None = None
    """None for a piece that was never put away."""
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
    table: dict[str, object | None] = {
        "format": FORMAT,
        "name": folder.name,
        "pattern": folder.pattern_digest,
        "design": folder.design_digest,
        "rows": folder.rows,
        "started": folder.started,
        "source": source,
    }
    if folder.shelved is not None:
        table |= on_shelf(folder.shelved.shelf, folder.shelved.at)
    if folder.moved:
        table["moved"] = folder.moved
    return _text(table)


def read_about(path: Path) -> PieceFolder:
    """The piece in the folder `path`. Raises ProblemsError with everything that is wrong."""
    return _folder(path, _table(path / ABOUT))


def change_about(path: Path, changes: Mapping[str, object | None]) -> PieceFolder:
    """Change keys of the folder's `piece.toml` in one go, None taking one out; the rest stays.

    Raises ProblemsError for a file that cannot be used; SaveError with the file as it was, as
    when the piece is open in another window.
    """
    # A piece that moves to a changed pattern writes this file too: one at a time.
    try:
        lock = Lock(path / LOCK)
    except TakenError:
        raise SaveError("could not change the piece: it is open in another window") from None
    except OSError as error:
        raise SaveError(f"could not change the piece: {reason(error)}") from error
    try:
        return change_about_locked(path, changes)
    finally:
        lock.release()


def change_about_locked(path: Path, changes: Mapping[str, object | None]) -> PieceFolder:
    """As `change_about`, for whoever holds the piece's lock already."""
    table = _table(path / ABOUT)
    _folder(path, table)
    # What a newer version may have put there is kept.
    table = {**table, **changes}
    folder = _folder(path, _said(table))
    with saving("change the piece"):
        durable.replace(path / ABOUT, _text(table))
    return folder


def on_shelf(shelf: Shelf, at: datetime) -> dict[str, datetime | None]:
    """What `piece.toml` says of a piece put on a shelf at that time; None where it says nothing."""
    return {key: at if kind == shelf else None for key, kind in SHELF_KEYS.items()}


def fault_of_name(name: str) -> str:
    """Why a piece cannot be called so; "" if it can."""
    if not name.strip():
        return "a piece needs a name"
    if len(name) > LONGEST_NAME:
        return f"a name has {LONGEST_NAME} characters at most, this one has {len(name)}"
    if not name.isprintable():
        return "the name holds a character that cannot be shown"
    return ""


def _text(table: Mapping[str, object | None]) -> bytes:
    import tomli_w  # noqa: PLC0415  a piece is opened far more often than this is written

    return tomli_w.dumps(_said(table)).encode()


def _said(table: Mapping[str, object | None]) -> dict[str, object]:
    return {key: value for key, value in table.items() if value is not None}


def _table(file: Path) -> dict[str, Any]:
    try:
        return parse_toml(read_text(file, LARGEST))
    except ProblemsError as error:
        back = [Problem(found.where, found.what, _WAY_BACK) for found in error.problems]
        raise ProblemsError(back, str(file)) from None


def _folder(path: Path, table: Mapping[str, Any]) -> PieceFolder:
    file = path / ABOUT
    known = table.get("format")
    if type(known) is int and known != FORMAT:
        raise ProblemsError([unknown_format(known, FORMAT)], str(file))
    problems = [
        Problem(key, f"should be {_WANTED[key]}", _WAY_BACK)
        for key in _WANTED
        if key != "moved" or key in table
        if not _is_right(key, table.get(key))
    ]
    problems += [
        Problem(key, f"should be {_WANTED['started']}", _WAY_BACK)
        for key in SHELF_KEYS
        if key in table and not _is_right("started", table[key])
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
        shelved=max(
            (Shelved(shelf, table[key]) for key, shelf in SHELF_KEYS.items() if key in table),
            key=lambda shelved: shelved.at,
            default=None,
        ),
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
