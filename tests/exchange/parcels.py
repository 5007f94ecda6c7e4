"""Pieces as one file for the tests: good ones, and ones that somebody made up."""

import hashlib
from dataclasses import replace
from datetime import timedelta
from functools import cache
from pathlib import Path

from weaving import a_design

from tracker.exchange import export_piece
from tracker.pattern.compiler import Compiled, compile_design
from tracker.progress import exported
from tracker.progress.exported import Exported
from tracker.progress.opened import open_piece
from tracker.progress.piece import PieceFolder
from tracker.progress.position import forward
from tracker.progress.state import Moved
from tracker.progress.store import Store


@cache
def compiled() -> Compiled:
    """A band of 2 columns and 6 rows."""
    return compile_design(a_design(2, 6))


def started(home: Path, name: str = "Harbour lights", *, moves: int = 0) -> PieceFolder:
    """A piece in `home`, so many steps on."""
    pattern = compiled().pattern
    folder = Store(home).start(
        compiled().text.encode(),
        name=name,
        digest=pattern.digest,
        design_digest=pattern.design,
        rows=pattern.row_count,
        source=home / "gone.design.toml",
    )
    stitched(folder, moves)
    return folder


def stitched(folder: PieceFolder, moves: int) -> None:
    """Go so many steps on, 20 seconds each."""
    pattern = compiled().pattern
    with open_piece(folder, pattern) as piece:
        for i in range(moves):
            place = forward(pattern, piece.progress.position, "step")
            piece.record(Moved(folder.started + timedelta(seconds=20 * i), place))


def parcel(home: Path, out: Path, *, moves: int = 4) -> Exported:
    """A good piece, as the file `out` has it."""
    export_piece(started(home, moves=moves), str(out))
    return exported.read(out.read_text("utf-8"))


def sealed(rest: str) -> str:
    """A file of which all but the seal is made up."""
    digest = hashlib.sha256(rest.encode()).hexdigest()
    return f'format = 1\nkind = "exported piece"\nseal = "sha256:{digest}"\n{rest}'


def with_lines(piece: Exported, *texts: str) -> Exported:
    """The piece with lines of anything behind its journal, each with a check that is right."""
    from tracker.progress import chain  # noqa: PLC0415

    data = piece.journal.encode()
    mark = chain.scan(data, "").mark
    for text in texts:
        line, mark = chain.line(mark, text)
        data += line
    return replace(piece, journal=data.decode())
