"""A piece taken out of the data folder as one file, and into it on another machine.

What comes in is believed in nothing: pattern, journal and design are proved anew, and whatever
name or path it gives, it becomes a new folder beside the pieces that are there.
"""

from __future__ import annotations

import contextlib
import os
from collections.abc import Iterator
from pathlib import Path

from tracker.design.reader import parse_design
from tracker.files import read_bytes, read_text
from tracker.pattern.model import Pattern
from tracker.pattern.reader import LARGEST, parse_pattern
from tracker.problems import Problem, ProblemsError
from tracker.progress import chain, durable, exported, journal
from tracker.progress.chain import Contents
from tracker.progress.durable import SaveError
from tracker.progress.exported import AGAIN, ENDING, Exported
from tracker.progress.pace import GAPS_KEPT, ROWS_KEPT
from tracker.progress.piece import DESIGN, JOURNAL, PATTERN, PieceFolder
from tracker.progress.position import Position
from tracker.progress.state import (
    MOST_BEADS,
    Event,
    Joined,
    Measured,
    Moved,
    Progress,
    Unpicking,
    apply,
)
from tracker.progress.store import Listed, Store
from tracker.records import record
from tracker.stitches import demands

LARGEST_DESIGN = 240_000
"""A larger design stays behind, bytes: nobody should wait while a stranger's is read."""
_MOST_TABLES = 64_000
"""Characters of a pattern beside its rows and places: 26 colours, their names and the shapes."""
_MOST_SAID = 5
"""Problems told of one part: nobody mends such a file by hand."""
_YEARS = range(1970, 9000)
"""Times outside of these have no local time on some platforms."""


@record(kw_only=True)
class TakenIn:
    """What came of an import."""

    folder: PieceFolder
    """The new piece, or the one that is here already and stands where the file does."""
    position: Position
    new: bool
    notices: tuple[str, ...] = ()
    """What the beader should hear, a sentence each."""


def export_piece(folder: PieceFolder, out: str | None) -> tuple[Path, tuple[str, ...]]:
    """Write the piece to the file `out`, by default named after it in the working folder.

    Also what the beader should hear. A file that holds anything but an earlier state of this very
    piece is left alone. Raises ProblemsError that names the file.
    """
    path = Path(out) if out else Path(f"{folder.slug}{ENDING}")
    piece, notices = _exported(folder)
    text = exported.write(piece)
    if len(text.encode()) > exported.LARGEST:
        what = f"is over {exported.LARGEST // 1_000_000} MB as one file"
        raise ProblemsError([Problem("the piece", what, "copy its folder instead")], folder.name)
    try:
        if os.path.lexists(path):
            _require_earlier(path, piece)
        durable.replace(path, text.encode(), mode=0o644)
    except ProblemsError as error:
        raise error.in_file(os.fspath(path)) from None
    except (OSError, ValueError) as error:  # ValueError: a zero byte in the name
        why = durable.reason(error) if isinstance(error, OSError) else "there is no such name"
        problem = Problem("file", f"cannot be written: {why}", "name another file")
        raise ProblemsError([problem], os.fspath(path)) from None
    return path, notices


def import_piece(path: str | os.PathLike[str], store: Store) -> TakenIn:
    """Take the piece in the file `path` in. Raises ProblemsError that names the file."""
    try:
        piece = exported.read(read_text(path, exported.LARGEST))
        with _part("pattern"):
            _require_sober(piece.pattern)
            pattern = parse_pattern(piece.pattern)
        with _part("journal"):
            contents, progress = _told(piece, pattern)
        with _part("design"):
            _require_design_of(piece, pattern)
        alike = [p for p in store.pieces() if p.folder and _is_of(p, pattern)]
        for listed in alike:
            if listed.folder and listed.problem is None and _same(listed.folder, contents, pattern):
                notice = f'"{listed.name}" is here already and stands at the same place'
                return TakenIn(
                    folder=listed.folder,
                    position=progress.position,
                    new=False,
                    notices=(f"{notice}: nothing was to be taken in",),
                )
        folder = store.add(_files(piece), _wanted(piece, pattern, progress, path))
    except ProblemsError as error:
        raise error.in_file(os.fspath(path)) from None
    except SaveError as error:
        mend = "make room, or set TRACKER_HOME to a folder that can be written"
        raise ProblemsError([Problem("the piece", str(error), mend)], os.fspath(path)) from None
    return TakenIn(
        folder=folder,
        position=progress.position,
        new=True,
        notices=tuple(_both_kept(folder, progress, alike)),
    )


# --- out ---------------------------------------------------------------------------------------


def _exported(folder: PieceFolder) -> tuple[Exported, tuple[str, ...]]:
    file = os.fspath(folder.pattern_path)
    try:
        text = read_text(file, LARGEST)
        pattern = parse_pattern(text)
    except ProblemsError as error:
        raise error.in_file(file) from None
    design = next(_designs(folder), "")
    notices = () if design else ("its design is not here as it was: the file goes without",)
    said = _journal(folder, pattern).decode("ascii")
    return Exported(name=folder.name, pattern=text, journal=said, design=design), notices


def _journal(folder: PieceFolder, pattern: Pattern) -> bytes:
    """The journal as it is taken along: a line cut off left out, a long one shortened."""
    path = folder.journal_path
    try:
        data = read_bytes(path, journal.LARGEST)
    except FileNotFoundError:
        return journal.begun(pattern.digest, folder.started)[0]
    except ProblemsError as error:
        raise error.in_file(os.fspath(path)) from None
    contents = journal.scanned(path, data)
    progress = journal.replay(path, contents, pattern)
    if len(contents.texts) <= journal.LINES_KEPT:
        return data[: contents.mark.length]
    # The time of its last move and not of now, so that the same piece gives the same bytes.
    at = progress.last_stitched or progress.started
    return journal.whole(pattern.digest, progress, pattern.row_count, at)[0]


def _designs(folder: PieceFolder) -> Iterator[str]:
    """The text of the design that the piece was compiled from, wherever it is still to be had."""
    for path in (Path(folder.source), folder.path / DESIGN):
        try:
            text = read_text(path, LARGEST_DESIGN)
            if parse_design(text, stitches=demands()).digest == folder.design_digest:
                yield text
        except ProblemsError:
            continue


def _require_earlier(path: Path, piece: Exported) -> None:
    """Refuse to write over anything but this piece as it was before."""
    mend = "name another file"
    try:
        there = exported.read(read_text(path, exported.LARGEST))
    except ProblemsError:
        what = "is there already and is no exported piece"
        raise ProblemsError([Problem("file", what, mend)]) from None
    if there.pattern != piece.pattern or not piece.journal.startswith(there.journal):
        what = "is there already and holds another piece, or went another way"
        raise ProblemsError([Problem("file", what, mend)])


# --- in ----------------------------------------------------------------------------------------


def _require_sober(pattern: str) -> None:
    """Refuse what no compiler wrote before it is parsed: a parser may take minutes and gigabytes.

    Rows and places stand in literal blocks, which are read at once; the rest is small.
    """
    parts = pattern.split("'''")
    tables, blocks = parts[::2], parts[1::2]
    if sum(map(len, tables)) > _MOST_TABLES or any(
        letter in block for block in blocks for letter in "=[]{}\"'#"
    ):
        raise ProblemsError([Problem("the lines", "are not in the form of a pattern", AGAIN)])


def _told(piece: Exported, pattern: Pattern) -> tuple[Contents, Progress]:
    """The journal, and the progress that it tells of."""
    try:
        data = piece.journal.encode("ascii")
    except UnicodeEncodeError:
        raise ProblemsError([Problem("the lines", "hold odd letters", AGAIN)]) from None
    contents = chain.scan(data, AGAIN)
    if contents.torn or len(contents.texts) > journal.LINES_KEPT:
        raise ProblemsError([Problem("the end", "is torn or too long", AGAIN)])
    progress = journal.replay(Path(JOURNAL), contents, pattern)
    _require_sound(pattern, progress)
    return contents, progress


def _require_sound(pattern: Pattern, progress: Progress) -> None:
    """Refuse what a snapshot may say and no stitching ever does."""
    at, timing = progress.started, progress.timing
    events: list[Event] = [
        Moved(at, timing.furthest),
        Unpicking(at, progress.unpicking),
        *(Measured(at, length) for length in progress.measured),
        *(Joined(at, length) for length in progress.cuts),
    ]
    times = (at, progress.last_stitched, timing.last_move, timing.row_started)
    empty = Progress(started=at)
    try:
        for event in events:
            apply(pattern, empty, event)
    except ValueError as error:
        raise ProblemsError([Problem("a snapshot", f"makes no sense: {error}", AGAIN)]) from None
    if any(time is not None and time.year not in _YEARS for time in times):
        raise ProblemsError([Problem("a time", "is out of all reason", AGAIN)])
    if len(timing.row_seconds) > ROWS_KEPT or len(timing.gaps) > GAPS_KEPT:
        raise ProblemsError([Problem("a snapshot", "remembers too much", AGAIN)])
    beads = [*progress.lost, *(counted[:2] for counted in progress.on_hand)]
    if any(key not in pattern.totals or not 0 <= n <= MOST_BEADS for key, n in beads):
        raise ProblemsError([Problem("beads", "are none of this pattern's", AGAIN)])


def _require_design_of(piece: Exported, pattern: Pattern) -> None:
    if not piece.design:
        return
    if len(piece.design) > LARGEST_DESIGN:
        raise ProblemsError([Problem("all of it", "is too large", AGAIN)])
    if parse_design(piece.design, stitches=demands()).digest != pattern.design:
        raise ProblemsError([Problem("all of it", "is not the one of the pattern", AGAIN)])


def _is_of(listed: Listed, pattern: Pattern) -> bool:
    return listed.folder is not None and listed.folder.pattern_digest == pattern.digest


def _same(folder: PieceFolder, contents: Contents, pattern: Pattern) -> bool:
    """Whether the piece here would be taken along with the same journal."""
    try:
        here = chain.scan(_journal(folder, pattern), AGAIN)
    except ProblemsError:
        return False
    return here.texts == contents.texts


def _files(piece: Exported) -> dict[str, bytes]:
    files = {PATTERN: piece.pattern.encode(), JOURNAL: piece.journal.encode("ascii")}
    return files | ({DESIGN: piece.design.encode()} if piece.design else {})


def _wanted(
    piece: Exported, pattern: Pattern, progress: Progress, path: str | os.PathLike[str]
) -> PieceFolder:
    return PieceFolder(
        path=Path(),
        name=piece.name,
        pattern_digest=pattern.digest,
        design_digest=pattern.design,
        rows=pattern.row_count,
        started=progress.started,
        source="" if piece.design else str(Path(path).absolute()),
    )


def _both_kept(folder: PieceFolder, progress: Progress, alike: list[Listed]) -> Iterator[str]:
    for listed in alike:
        yield (
            f'"{listed.name}" is a piece of the same pattern that went another way, '
            f"{standing(listed.position, folder.rows)}: both are kept, and what was taken in is "
            f'"{folder.name}", {standing(progress.position, folder.rows)}'
        )


def standing(position: Position, rows: int) -> str:
    """Where a piece stands, in a few words."""
    return f"finished, {rows} rows" if position.row >= rows else f"row {position.row + 1} of {rows}"


@contextlib.contextmanager
def _part(name: str) -> Iterator[None]:
    """Tell problems as those of a part of the file."""
    try:
        yield
    except ProblemsError as error:
        raise ProblemsError(
            Problem(f"{name}, {p.where}", p.what, p.mend if "update" in p.mend else AGAIN)
            for p in error.problems[:_MOST_SAID]
        ) from None
