"""What a FILE on the command line means: a design, a pattern or a piece."""

from __future__ import annotations

import os
import re
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from tracker.files import read_text
from tracker.pattern.model import Pattern
from tracker.pattern.reader import LARGEST, parse_pattern
from tracker.problems import Problem, ProblemsError, nearest
from tracker.progress import durable
from tracker.progress.piece import ABOUT, JOURNAL, SHELVES, PieceFolder
from tracker.progress.store import Listed, Store
from tracker.records import record

if TYPE_CHECKING:
    from tracker.design.model import Design
    from tracker.pattern.compiler import Compiled

# A pattern is opened far more often than a design: what reads and compiles designs is imported
# by those who do.

_SEALED = re.compile(r"^seal\s*=", re.MULTILINE)
_HEAD = 4096
PATTERN_ENDING = ".pattern.toml"


@record(kw_only=True)
class Loaded:
    """A pattern ready to be stitched, and where it came from."""

    pattern: Pattern
    text: str
    """The pattern file's text."""
    source: Path
    """The file that was named, or that the piece was started from."""
    piece: PieceFolder | None = None
    """The piece, where the word meant one or the file has been started before."""
    notices: tuple[str, ...] = ()
    """What the beader should hear, a sentence each."""
    changed: str | None = None
    """The text of the pattern that the piece's file now makes, where that is another one."""


def load(word: str, store: Store) -> Loaded:
    """The pattern that `word` means, and the piece that was started from it, if any.

    Raises ProblemsError that names the file.
    """
    path = Path(word)
    # These two of os.path raise nothing, whatever the name.
    if os.path.isfile(path) and path.name not in (ABOUT, JOURNAL):  # noqa: PTH113
        loaded = _from_file(path)
        return _with_piece(loaded, store)
    pieces = _usable(store.find(word))
    if pieces:
        return _from_piece(pieces[0])
    if os.sep in word or path.suffix or os.path.exists(path):  # noqa: PTH110
        try:
            read_text(path, LARGEST)  # says why it cannot be read
        except ProblemsError as error:
            raise error.in_file(word) from None
    raise _no_such_piece(word, store)


def compile_file(path: Path) -> Compiled:
    """Compile the design in the file `path`; raises ProblemsError that names it."""
    from tracker.design.reader import LARGEST as LARGEST_DESIGN  # noqa: PLC0415

    try:
        text = read_text(path, LARGEST_DESIGN)
        return compile_text(text)
    except ProblemsError as error:
        raise error.in_file(os.fspath(path)) from None


def compile_text(text: str) -> Compiled:
    """Compile the text of a design."""
    from tracker.design.reader import parse_design  # noqa: PLC0415
    from tracker.pattern.compiler import compile_design  # noqa: PLC0415
    from tracker.stitches import demands  # noqa: PLC0415

    if is_pattern(text):
        what, mend = "is a compiled pattern already", "open it, or name its design"
        raise ProblemsError([Problem("file", what, mend)])
    return compile_design(parse_design(text, stitches=demands()))


def save_pattern(text: str, design: Path, out: str | None) -> Path:
    """Write a pattern, by default beside its design; whatever is no pattern is left alone.

    Raises ProblemsError that names the file.
    """
    path = Path(out) if out else design.with_name(_stem(design.name) + PATTERN_ENDING)
    if os.path.lexists(path) and not _is_pattern_file(path):
        what, mend = "is there already and is no pattern", "name another file with -o"
        raise ProblemsError([Problem("file", what, mend)], os.fspath(path))
    try:
        durable.replace(path, text.encode(), mode=0o644)
    except OSError as error:
        what = f"cannot be written: {durable.reason(error)}"
        mend = "name another file with -o"
        raise ProblemsError([Problem("file", what, mend)], os.fspath(path)) from None
    return path


def save_design(text: str, path: Path, *, over: str | None) -> bool:
    """Write a design; False, and nothing done, if the file holds another text than `over`.

    `over` is what may be written over, None for a file that is not there. Raises ProblemsError
    that names the file.
    """
    from tracker.design.reader import LARGEST as LARGEST_DESIGN  # noqa: PLC0415

    try:
        path = Path(os.path.realpath(path))  # behind a link, the file itself changes
        if over is None:
            durable.create(path, text.encode())
        else:
            mode = path.stat().st_mode
            if read_text(path, LARGEST_DESIGN) != over:
                return False
            durable.replace(path, text.encode())
            path.chmod(mode & 0o777)
    except FileExistsError:
        return False
    except ProblemsError as error:
        raise error.in_file(os.fspath(path)) from None
    except (OSError, ValueError) as error:
        what = f"cannot be written: {durable.reason(error)}" if isinstance(error, OSError) else ""
        problem = Problem("file", what or "has no name that a file can have", "name another one")
        raise ProblemsError([problem], os.fspath(path)) from None
    return True


def design_of(source: Path, pattern: Pattern) -> Design | None:
    """The design that a pattern was compiled from, if the file still says just that."""
    from tracker.design.reader import LARGEST as LARGEST_DESIGN  # noqa: PLC0415
    from tracker.design.reader import parse_design  # noqa: PLC0415
    from tracker.stitches import demands  # noqa: PLC0415

    try:
        design = parse_design(read_text(source, LARGEST_DESIGN), stitches=demands())
    except ProblemsError:
        return None
    return design if design.digest == pattern.design else None


def load_design(path: Path, store: Store) -> Loaded:
    """The design in a file as it is now, and the piece of that very pattern, if any.

    A piece that an older text of the file began is not meant. Raises ProblemsError that names it.
    """
    return _with_same_piece(_from_file(path), store)


def _stem(name: str) -> str:
    return name.removesuffix(".toml").removesuffix(".design")


def _is_pattern_file(path: Path) -> bool:
    try:
        return is_pattern(read_text(path, LARGEST))
    except ProblemsError:
        return False


def is_pattern(text: str) -> bool:
    """Whether a file's text is a compiled pattern's and not a design's."""
    return _SEALED.search(text[:_HEAD]) is not None


def _from_file(path: Path) -> Loaded:
    try:
        text = read_text(path, LARGEST)
        _require_taken_in(text, path)
        if is_pattern(text):
            return Loaded(pattern=parse_pattern(text), text=text, source=path)
        from tracker.design.reader import LARGEST as LARGEST_DESIGN  # noqa: PLC0415

        if len(text) > LARGEST_DESIGN:
            text = read_text(path, LARGEST_DESIGN)
        compiled = compile_text(text)
    except ProblemsError as error:
        raise error.in_file(os.fspath(path)) from None
    notices = (compiled.advice,) if compiled.advice else ()
    return Loaded(pattern=compiled.pattern, text=compiled.text, source=path, notices=notices)


def _require_taken_in(text: str, path: Path) -> None:
    if "exported piece" not in text[: 2 * _HEAD]:
        return
    from tracker.progress.exported import is_exported  # noqa: PLC0415  hardly ever

    if is_exported(text):
        what, mend = "is a piece as one file", f"take it in first: tracker import {path}"
        raise ProblemsError([Problem("file", what, mend)])


def _with_same_piece(loaded: Loaded, store: Store) -> Loaded:
    """The loaded file with the piece of its very pattern, if there is one."""
    same = _usable(store.find(loaded.pattern.digest))
    return replace(loaded, piece=same[0].folder) if same else loaded


def _with_piece(loaded: Loaded, store: Store) -> Loaded:
    """The loaded file, or the piece that was started from it."""
    same = _with_same_piece(loaded, store)
    if same.piece is not None:
        return same
    started = _usable(store.find(os.fspath(loaded.source)))
    if not started or started[0].finished:
        return loaded
    piece = _from_piece(started[0])
    notice = f"{loaded.source} has changed since this piece was started"
    return replace(piece, changed=loaded.text, notices=(*loaded.notices, notice))


def _from_piece(listed: Listed) -> Loaded:
    folder = listed.folder
    assert folder is not None, "an unusable piece was left out"
    try:
        text = read_text(folder.pattern_path, LARGEST)
        pattern = parse_pattern(text)
    except ProblemsError as error:
        raise error.in_file(os.fspath(folder.pattern_path)) from None
    return Loaded(pattern=pattern, text=text, source=Path(folder.source), piece=folder)


def _usable(found: list[Listed]) -> list[Listed]:
    """The pieces that can be opened, those in hand first; a broken one is a problem."""
    broken = next((listed.problem for listed in found if listed.problem is not None), None)
    if broken is not None and all(listed.problem is not None for listed in found):
        raise broken
    usable = [listed for listed in found if listed.problem is None]
    return sorted(usable, key=lambda listed: SHELVES.index(listed.shelf))


def _no_such_piece(word: str, store: Store) -> ProblemsError:
    names = [listed.name for listed in store.pieces()]
    meant = nearest(word, names)
    mend = "name a design, a pattern or a piece"
    if meant:
        mend = f'did you mean the piece "{meant}"?'
    return ProblemsError([Problem("file", "there is no such file and no such piece", mend)], word)
