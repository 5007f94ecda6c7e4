"""The pieces in hand, a folder each, in the user's data folder."""

from __future__ import annotations

import contextlib
import os
import re
import shutil
import tempfile
import time
import unicodedata
from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import platformdirs

from tracker.problems import Problem, ProblemsError
from tracker.progress import durable, journal
from tracker.progress.durable import SaveError, reason
from tracker.progress.piece import (
    ABOUT,
    DESIGN,
    JOURNAL,
    PATTERN,
    PieceFolder,
    Shelf,
    about,
    fault_of_name,
    read_about,
)
from tracker.progress.position import START, Position
from tracker.progress.state import utc_now
from tracker.progress.sweeping import PREFIX, making, sweep
from tracker.records import record

HOME = "TRACKER_HOME"
_SLUG_LENGTH = 48
_RESERVED = {"con", "prn", "aux", "nul"} | {f"{d}{n}" for d in ("com", "lpt") for n in range(10)}


def data_home() -> Path:
    """Where this user's pieces are kept."""
    home = os.environ.get(HOME)
    return Path(home) if home else Path(platformdirs.user_data_dir("bead-row-tracker", False))


def slug(name: str) -> str:
    """A folder's name for a piece: lower-case ASCII letters, digits and hyphens, never empty."""
    ascii_ = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    plain = re.sub(r"[^a-z0-9]+", "-", ascii_)[:_SLUG_LENGTH].strip("-")
    if not plain:
        return "piece"
    # Some systems keep these names for devices, with any ending.
    return f"piece-{plain}" if plain in _RESERVED else plain


@record(kw_only=True)
class Listed:
    """A piece as the bench shows it, read without its pattern."""

    path: Path
    folder: PieceFolder | None = None
    """None if not even `piece.toml` can be used."""
    position: Position = START
    last_stitched: datetime | None = None
    problem: ProblemsError | None = None
    """Why the piece cannot be opened."""

    @property
    def name(self) -> str:
        """The piece's name, or its folder's if that is all there is."""
        return self.path.name if self.folder is None else self.folder.name

    @property
    def finished(self) -> bool:
        """Whether every row is done."""
        return self.folder is not None and self.position.row >= self.folder.rows

    @property
    def shelf(self) -> Shelf:
        """Where the piece lies: what was stitched since it was put away is in hand again."""
        if self.finished:
            return "finished"
        shelved = self.folder.shelved if self.folder else None
        if shelved is None or (self.last_stitched and self.last_stitched > shelved.at):
            return "in hand"
        return shelved.shelf


class Store:
    """All pieces under one data folder."""

    def __init__(self, home: Path) -> None:
        self.home = home
        self._pieces = home / "pieces"

    def start(
        self,
        pattern_bytes: bytes,
        *,
        name: str,
        digest: str,
        design_digest: str,
        rows: int,
        source: Path,
    ) -> PieceFolder:
        """Start a piece of the compiled pattern `pattern_bytes`, in a folder of its own.

        `rows` is the pattern's row count. A name already taken gets " 2", " 3" behind it. Raises
        SaveError, leaving nothing behind; ProblemsError for a name that cannot be shown.
        """
        now = utc_now()
        folder = PieceFolder(
            path=self._pieces,
            name=name,
            pattern_digest=digest,
            design_digest=design_digest,
            rows=rows,
            started=now,
            source=str(source.absolute()),
        )
        files = {PATTERN: pattern_bytes, JOURNAL: journal.begun(digest, now)[0]}
        return self.add(files, folder)

    def add(self, files: Mapping[str, bytes], wanted: PieceFolder) -> PieceFolder:
        """Put a new piece beside the others, whole or not at all: `files` by their names.

        `wanted` says all that `piece.toml` is to say; its path counts for nothing, its name may
        get a number. A source of "" stands for the design among the files. Raises as `start` does.
        """
        fault = fault_of_name(wanted.name)
        if fault:
            problem = Problem("name", f"{fault}: {wanted.name!r}", "give it another")
            raise ProblemsError([problem], wanted.source)
        try:
            self._pieces.mkdir(parents=True, exist_ok=True)
            durable.sync_folder(self._pieces.parent)
            sweep(self._pieces, time.time())
            made = Path(tempfile.mkdtemp(prefix=PREFIX, dir=self._pieces))
        except OSError as error:
            raise SaveError(f"could not start the piece: {reason(error)}") from error
        try:
            # So that nobody takes it for what a crash left.
            with making(made):
                for file, data in files.items():
                    durable.create(made / file, data)
            while True:
                path = self._free_path(wanted.name)
                source = wanted.source or str(path.absolute() / DESIGN)
                name = self.free_name(wanted.name)
                folder = replace(wanted, path=path, name=name, source=source)
                durable.replace(made / ABOUT, about(folder))
                # Somebody else may take the same place at the same time: then look again.
                if _renamed(made, folder.path):
                    break
            durable.sync_folder(self._pieces)
        except BaseException as error:
            shutil.rmtree(made, ignore_errors=True)
            if isinstance(error, OSError):
                raise SaveError(f"could not start the piece: {reason(error)}") from error
            raise
        return folder

    def pieces(self, *, checked: bool = True) -> list[Listed]:
        """Every piece, the one stitched last first; a broken one is listed with its problem.

        Not `checked`, a long journal is believed by its last lines, which takes next to no time.
        """
        listed = [_listed(path, checked=checked) for path in self._folders()]
        return sorted(listed, key=_newest_first)

    def find(self, word: str) -> list[Listed]:
        """The pieces that `word` means, the one stitched last first.

        In this order: a folder's name, a piece's name in any case, a file that it was started from
        or one in its folder, its pattern's or its design's digest. The first kind that fits counts.
        """
        listed = self.pieces()
        real = _resolved(word)
        kinds = (
            [p for p in listed if p.path.name == word],
            [p for p in listed if p.name.casefold() == word.casefold()],
            [p for p in listed if p.folder and _resolved(p.folder.source) == real],
            [p for p in listed if p.path.resolve() in (real, real.parent)],
            [p for p in listed if p.folder and p.folder.pattern_digest == word],
            [p for p in listed if p.folder and p.folder.design_digest == word],
        )
        return next((found for found in kinds if found), [])

    def _folders(self) -> list[Path]:
        try:
            with os.scandir(self._pieces) as entries:
                return [Path(e.path) for e in entries if e.name[0] != "." and e.is_dir()]
        except FileNotFoundError:
            return []
        except OSError as error:
            problem = Problem("the folder", f"cannot be read: {reason(error)}", f"see to {HOME}")
            raise ProblemsError([problem], str(self._pieces)) from error

    def names(self) -> dict[Path, str]:
        """The name of every piece by its folder; a broken piece has none."""
        names = {}
        for path in self._folders():
            with contextlib.suppress(ProblemsError):
                names[path] = read_about(path).name
        return names

    def free_name(self, name: str) -> str:
        """The name, with a number behind it if it is taken."""
        taken = {other.casefold() for other in self.names().values()}
        free, number = name, 1
        while free.casefold() in taken:
            number += 1
            free = f"{name} {number}"
        return free

    def _free_path(self, name: str) -> Path:
        free, number = self._pieces / slug(name), 1
        while os.path.lexists(free):
            number += 1
            free = self._pieces / f"{slug(name)}-{number}"
        return free


def _resolved(word: str) -> Path:
    """The file that `word` may name, links followed; the word itself if it can name none."""
    try:
        return Path(word).resolve()
    except (OSError, RuntimeError, ValueError):  # a loop of links, a zero byte
        return Path(word)


def _renamed(made: Path, path: Path) -> bool:
    """Whether `made` could be put at `path`; not if something has come to be there."""
    try:
        made.rename(path)
    except OSError:
        if os.path.lexists(path):
            return False
        raise
    return True


def _listed(path: Path, *, checked: bool) -> Listed:
    folder = None
    try:
        folder = read_about(path)
        if not checked and (
            place := journal.last_place_unchecked(folder.journal_path, folder.rows)
        ):
            return Listed(path=path, folder=folder, position=place[0], last_stitched=place[1])
        contents = journal.read(folder.journal_path)
        journal.require_bound(folder.journal_path, contents, folder.pattern_digest)
        position, last_stitched = journal.last_place(folder.journal_path, contents, folder.rows)
    except FileNotFoundError:  # no journal: it would begin at the first step
        return Listed(path=path, folder=folder)
    except ProblemsError as error:
        return Listed(path=path, folder=folder, problem=error)
    return Listed(path=path, folder=folder, position=position, last_stitched=last_stitched)


def _newest_first(listed: Listed) -> tuple[float, str]:
    when = listed.last_stitched or (listed.folder.started if listed.folder else None)
    return (-when.timestamp() if when else 0.0, listed.path.name)
